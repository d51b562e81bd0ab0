import { boardPlaySchema } from '@stemline/board/board-play';
import { BoardDocument } from '@stemline/board/document';
import { ruledPlaySchema } from '@stemline/read-rules/ruled-play';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { type Edit, edit, makeEdit } from './edits.ts';
import { boardPlay, fullBoard, handPlay, ruledPlay } from './plays.ts';
import { twoCoaches } from './two-coaches.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

describe('arbitraries', () => {
  it('make what the schemas accept', () => {
    expect(ruledPlaySchema.safeParse(handPlay()).success).toBe(true);
    fc.assert(fc.property(ruledPlay(), (play) => ruledPlaySchema.safeParse(play).success));
    fc.assert(fc.property(boardPlay(), (board) => boardPlaySchema.safeParse(board).success));
  });

  it('make edits of every kind, and most of them change something on a full board', () => {
    const kinds = new Map<Edit['do'], number>();
    let changed = 0;
    const sample = fc.sample(fc.tuple(fullBoard(), edit()), { numRuns: 400, seed: 1 });
    for (const [board, each] of sample) {
      const { a } = twoCoaches(board);
      expect(a).toBeInstanceOf(BoardDocument);
      const before = a.snapshot();
      makeEdit(a, each);
      kinds.set(each.do, (kinds.get(each.do) ?? 0) + 1);
      if (a.snapshot() !== before) changed += 1;
    }
    expect(kinds.size).toBe(23);
    expect(changed).toBeGreaterThan(sample.length / 2);
  });
});
