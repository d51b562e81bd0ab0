import { describe, expect, it } from 'vitest';
import { ApiProblem } from '../../api/problem.ts';
import { type ReadingLimits, readArchive } from './read-archive.ts';

/** What one account may send: 30 MB of JSON that is nothing but empty lists. */
const emptyLists = (count: number): ArrayBuffer =>
  new TextEncoder().encode(`[${'[],'.repeat(count)}[]]`).buffer;

const kindOf = (read: Promise<unknown>): Promise<string> =>
  read.then(
    () => 'read',
    (error: unknown) => (error instanceof ApiProblem ? error.kind : String(error)),
  );

const read = (bytes: ArrayBuffer, limits?: ReadingLimits): Promise<string> =>
  kindOf(readArchive(bytes, () => Promise.reject(new Error('there is nothing to use')), limits));

describe('reading an archive', () => {
  it('leaves the event loop to others, however costly the archive is made', async () => {
    const bytes = emptyLists(1_900_000);
    let turns = 0;
    const timer = setInterval(() => {
      turns += 1;
    }, 1);
    const answer = await read(bytes);
    clearInterval(timer);
    expect(answer).toBe('invalid');
    expect(turns).toBeGreaterThan(50);
  });

  it('is refused before it is taken apart where it holds more values than any archive', async () => {
    for (const bytes of [
      emptyLists(10_000_000),
      new TextEncoder().encode('['.repeat(15_000_000)).buffer,
    ])
      expect(await read(bytes)).toBe('tooLarge');
  });

  it('ends with the thread’s memory, and not with the server’s', async () => {
    expect(await read(emptyLists(1_900_000), { maxHeapMb: 64, patienceMs: 60_000 })).toBe(
      'tooLarge',
    );
  });

  it('ends with its time', async () => {
    expect(await read(emptyLists(1_900_000), { maxHeapMb: 768, patienceMs: 1 })).toBe('tooLarge');
  });

  it('tells what is no JSON from what is no archive', async () => {
    expect(await read(new TextEncoder().encode('{"format":').buffer)).toBe('malformed');
    expect(await read(new TextEncoder().encode('{}').buffer)).toBe('invalid');
  });
});
