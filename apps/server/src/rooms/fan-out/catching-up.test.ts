import { describe, expect, it } from 'vitest';
import { Background } from '../background.ts';
import { CatchingUp } from './catching-up.ts';

function setUp() {
  const failures: string[] = [];
  const reads: { answer: () => void; fail: () => void }[] = [];
  const catchingUp = new CatchingUp({
    boardId: 'b',
    background: new Background((error) => failures.push((error as Error).message)),
    revision: () => 0,
    isWriting: () => false,
    read: () =>
      new Promise((answer, reject) => {
        reads.push({ answer, fail: () => reject(new Error('the store is away')) });
      }),
    onRead: () => undefined,
  });
  return { catchingUp, reads, failures };
}

/** How it ended within this turn of the loop. */
async function outcomeOf(asked: Promise<void>): Promise<string> {
  let outcome = 'waits';
  asked.then(
    () => {
      outcome = 'done';
    },
    (error: Error) => {
      outcome = error.message;
    },
  );
  await new Promise(setImmediate);
  return outcome;
}

describe('a room that is closed', () => {
  it('leaves nobody waiting who asks for what is newer in the store: before, and after', async () => {
    const { catchingUp, reads } = setUp();
    const under = catchingUp.now();
    const next = catchingUp.now();
    catchingUp.close();
    const after = catchingUp.now();
    expect(await Promise.all([under, next, after].map(outcomeOf))).toEqual([
      'waits',
      'the room is closed',
      'the room is closed',
    ]);
    reads[0]?.answer();
    expect(await outcomeOf(under)).toBe('done');
    expect(reads).toHaveLength(1);
  });
});

describe('a read that fails', () => {
  it('is told to those it was for, and tried again for those who came meanwhile', async () => {
    const { catchingUp, reads, failures } = setUp();
    const first = catchingUp.now();
    const second = catchingUp.now();
    reads[0]?.fail();
    expect(await outcomeOf(first)).toBe('the store is away');
    expect(await outcomeOf(second)).toBe('waits');
    await expect.poll(() => reads.length).toBe(2);
    reads[1]?.answer();
    expect(await outcomeOf(second)).toBe('done');
    expect(failures).toEqual(['the store is away']);
  });
});
