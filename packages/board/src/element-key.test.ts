import { elementSchema } from '@stemline/read-rules/finding';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { asPlayerId, fullBoard } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { createBoardState } from './create.ts';
import { elementKey, elementKeysOf, parseElementKey } from './element-key.ts';
import { mapRoots, rootsOf } from './schema.ts';
import { elementWords } from './words.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

describe('element keys', () => {
  it('every value of a document has a key that is read back, and words that name it', () => {
    fc.assert(
      fc.property(fullBoard(), fc.array(edit(), { maxLength: 10 }), (board, edits) => {
        const coach = coachAt(createBoardState(board.play, board.notes), 7);
        for (const each of edits) makeEdit(coach, each);
        for (const root of mapRoots) {
          for (const key of rootsOf(coach.ydoc).maps[root].keys()) {
            expect(parseElementKey(elementKey(root, key))).toMatchObject({ root });
            expect(elementWords(elementKey(root, key), coach.snapshot().board)).not.toContain(
              'unknown',
            );
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  it.each([
    '',
    'notes/x',
    'spots',
    'spots/',
    'spots/a b',
    'spots/__proto__',
    'rows/H',
    'rows/H.',
    'rows/.r',
    'rows/H.r.s',
    'meta/secret',
    'constructor/x',
    '__proto__/x',
    'players/constructor',
  ])('%j is no key', (key) => {
    expect(parseElementKey(key)).toBeNull();
  });

  it('every element of a finding lives in values that have keys', () => {
    const elements = [
      { kind: 'player', player: 'H' },
      { kind: 'route', player: 'H' },
      { kind: 'motion', player: 'H' },
      { kind: 'card', player: 'H' },
      { kind: 'row', player: 'H', row: 'r1' },
      { kind: 'branch', player: 'H', branch: 'in' },
      { kind: 'formation' },
    ].map((element) => elementSchema.parse(element));
    expect(elements.map((element) => element.kind).sort()).toEqual(
      elementSchema.options.map((option) => option.shape.kind.value).sort(),
    );
    for (const element of elements) {
      const keys = elementKeysOf(element, [asPlayerId('H')]);
      expect(keys.length).toBeGreaterThan(0);
      for (const key of keys) expect(parseElementKey(key)).not.toBeNull();
    }
    expect(elementKeysOf(elementSchema.parse({ kind: 'row', player: 'H', row: 'r1' }))).toEqual([
      'rows/H.r1',
    ]);
  });
});
