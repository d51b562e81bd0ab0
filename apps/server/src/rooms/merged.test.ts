import fc from 'fast-check';
import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { merged } from './merged.ts';

/** What several editors send, each knowing some of what the others wrote. */
function written(
  steps: readonly { writer: number; key: number; hears: number | null }[],
): Uint8Array[] {
  const updates: Uint8Array[] = [];
  const writers = [0, 1, 2].map((id) => {
    const ydoc = new Y.Doc();
    ydoc.clientID = 10 + id;
    ydoc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'heard') updates.push(update);
    });
    return ydoc;
  });
  for (const { writer, key, hears } of steps) {
    const ydoc = writers[writer] as Y.Doc;
    if (hears !== null)
      Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(writers[hears] as Y.Doc), 'heard');
    ydoc.getMap('spots').set(`k${key}`, updates.length);
    ydoc.getText('notes').insert(0, 'x');
  }
  return updates;
}

it('says what all of them say, in whatever order they come', () => {
  const step = fc.record({
    writer: fc.nat({ max: 2 }),
    key: fc.nat({ max: 3 }),
    hears: fc.option(fc.nat({ max: 2 })),
  });
  fc.assert(
    fc.property(
      fc.array(step, { minLength: 1, maxLength: 120 }).chain((steps) => {
        const updates = written(steps);
        return fc.shuffledSubarray(updates, { minLength: updates.length });
      }),
      (updates) => {
        const [one, other] = [new Y.Doc(), new Y.Doc()];
        for (const update of updates) Y.applyUpdate(one, update);
        Y.applyUpdate(other, merged(updates));
        expect(Y.encodeStateAsUpdate(other)).toEqual(Y.encodeStateAsUpdate(one));
      },
    ),
    { numRuns: 60 },
  );
});
