import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { lacking } from './lacking.ts';
import { mentionsOf } from './mentions.ts';
import { newDocument } from './schema.ts';

/** Two pages that show each other everything, and each update of theirs. */
function pages() {
  const [one, other] = [newDocument(1), newDocument(2)];
  const made: Uint8Array[] = [];
  for (const [from, to] of [
    [one, other],
    [other, one],
  ] as const) {
    from.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin === 'told') return;
      made.push(update);
      Y.applyUpdate(to, update, 'told');
    });
  }
  return { one, other, made };
}

describe('what an update lacks', () => {
  it('is nothing when it stands alone or the document has the rest', () => {
    const { one, other, made } = pages();
    one.getMap('spots').set('H', [0, 0]);
    other.getMap('spots').set('H', [1, 0]);
    const board = newDocument(3);
    expect(lacking(mentionsOf(made[0] as Uint8Array), board).size).toBe(0);
    Y.applyUpdate(board, made[0] as Uint8Array);
    expect(lacking(mentionsOf(made[1] as Uint8Array), board).size).toBe(0);
  });

  it('is the words of another that it overwrites, nests in or deletes', () => {
    const { one, other, made } = pages();
    one.getMap('spots').set('H', [0, 0]);
    other.getMap('spots').set('H', [1, 0]);
    other.getMap('spots').set('X', [1, 0]);
    one.getMap('spots').delete('X');
    const board = newDocument(3);
    expect([...lacking(mentionsOf(made[1] as Uint8Array), board)]).toEqual([
      [1, { clock: 0, isGap: false }],
    ]);
    expect([...lacking(mentionsOf(made[3] as Uint8Array), board)]).toEqual([
      [2, { clock: 1, isGap: false }],
    ]);
  });

  it('is what it leaves out under an id that it writes with itself', () => {
    const { one, made } = pages();
    for (const x of [1, 2, 3]) one.getMap('spots').set('H', [x, 0]);
    const board = newDocument(3);
    const holed = Y.mergeUpdates([made[0], made[2]] as Uint8Array[]);
    expect([...lacking(mentionsOf(made[2] as Uint8Array), board)]).toEqual([
      [1, { clock: 1, isGap: true }],
    ]);
    expect([...lacking(mentionsOf(holed), board)]).toEqual([[1, { clock: 1, isGap: true }]]);
  });
});
