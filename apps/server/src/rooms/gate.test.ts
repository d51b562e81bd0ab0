import { createBoardState } from '@stemline/board/create';
import { newDocument } from '@stemline/board/schema';
import { handPlay } from '@stemline/testkit/plays';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Gate } from './gate.ts';

const first = createBoardState(handPlay());

/** What two members wrote on each other's words, each with something at the end that the other has not seen. */
function parts() {
  const [ann, ben] = [newDocument(101), newDocument(102)];
  for (const ydoc of [ann, ben]) Y.applyUpdate(ydoc, first);
  for (const [at, ydoc] of [ann, ben, ann, ben].entries()) {
    ydoc.getMap('spots').set('H', [at, -1]);
    for (const other of [ann, ben]) Y.applyUpdate(other, Y.encodeStateAsUpdate(ydoc));
  }
  ann.getMap('spots').set('X', [20, -1]);
  ben.getMap('spots').set('Y', [21, -1]);
  return [ann, ben].map((ydoc, at) => ({
    update: Y.encodeStateAsUpdate(ydoc, Y.encodeStateVectorFromUpdate(first)),
    member: at === 0 ? 'ann' : 'ben',
    scope: { kind: 'all' as const },
  }));
}

const gateWith = (maxDocumentBytes: number): Gate =>
  new Gate({
    accepted: () => first,
    clients: new Map([
      [1, null],
      [101, 'ann'],
      [102, 'ben'],
    ]),
    present: () => null,
    maxDocumentBytes,
    onFault: (error) => {
      throw error;
    },
    onUse: () => undefined,
  });

describe('R112 the size of what several wrote on each other', () => {
  const [ann, ben] = parts();
  if (!ann || !ben) throw new Error('two wrote');
  const longest = Math.max(ann.update.byteLength, ben.update.byteLength);
  const together = Y.mergeUpdates([ann.update, ben.update]).byteLength;

  it('is that of all they bring, each word counted once', () => {
    expect(together).toBeGreaterThan(longest);
    expect(gateWith(first.byteLength + together).judgeTogether([ann, ben]).ok).toBe(true);
    const gate = gateWith(first.byteLength + together - 1);
    expect(gate.judgeTogether([ann, ben])).toMatchObject({ ok: false, code: 'tooLarge' });
    // Nothing of it is left: what one of them says alone, and only he, is taken.
    const alone = newDocument(101);
    Y.applyUpdate(alone, first);
    alone.getMap('spots').set('H', [3, -1]);
    const update = Y.encodeStateAsUpdate(alone, Y.encodeStateVectorFromUpdate(first));
    expect(gate.judge(update, 'ann', { kind: 'all' })).toMatchObject({ ok: true, news: true });
    expect(gate.reached(102)).toBe(0);
  });
});
