import { builtInLooks } from '@stemline/football/shelf';
import { check } from '@stemline/read-rules/check';
import { applyMend } from '@stemline/read-rules/mends/apply';
import type { Mend } from '@stemline/read-rules/mends/mend';
import { anyCard, branch, card, doubles, h, is, row } from '@stemline/read-rules/testing/cards';
import { twoCoaches } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const shelf = builtInLooks.slice(0, 3);
const own = card([row('a', 'in', is('keyRushes', true)), row('b', 'out', is('keyRushes', true))]);

describe('a mend on a board', () => {
  it('writes what the pure mend gives, in one transaction and one step of undo', () => {
    const tried = new Set<Mend['do']>();
    const late = anyCard(['keyRushes', 'manOutside', 'middle']).map((one) => ({
      ...one,
      branches: [branch('in', { decideBy: 5.5 }), branch('out'), branch('sit')],
    }));
    fc.assert(
      fc.property(fc.oneof(anyCard(), late), (one) => {
        const play = doubles([one]);
        for (const { mends } of check(play, shelf)) {
          for (const mend of mends ?? []) {
            const { a } = twoCoaches({ play, notes: [] });
            const before = a.snapshot().board.play;
            let transactions = 0;
            a.ydoc.on('afterTransaction', ({ changed }) => {
              if (changed.size > 0) transactions += 1;
            });
            expect(a.applyMend(mend)).toEqual({ ok: true });
            expect(a.snapshot().board.play).toEqual(applyMend(before, mend));
            expect(transactions).toBe(1);
            expect(a.undo.undo()).toBe(true);
            expect(a.snapshot().board.play).toEqual(before);
            expect(a.undo.canUndo()).toBe(false);
            tried.add(mend.do);
          }
        }
      }),
      { numRuns: 40 },
    );
    expect([...tried].sort()).toEqual(
      ['addRow', 'narrowRow', 'removeRow', 'setDepths', 'setPolicy', 'setWhenInDoubt'].sort(),
    );
  });

  it('changes the finish of a branch, and nothing else of it', () => {
    const { a } = twoCoaches({ play: doubles([own]), notes: [] });
    const mend: Mend = {
      do: 'setFinish',
      player: h,
      branch: branch('in').id,
      finish: { kind: 'in', angle: 70, run: 6 },
      says: 'Break IN at 70 degrees.',
    };
    expect(a.applyMend(mend)).toEqual({ ok: true });
    expect(a.snapshot().board.play.cards[0]?.branches[0]).toEqual({
      ...branch('in'),
      finish: mend.finish,
    });
  });

  it('is refused whole where what it would change is gone, or makes no sense', () => {
    const { a } = twoCoaches({ play: doubles([own]), notes: [] });
    const before = a.snapshot();
    const gone = { player: h, says: 'x', row: row('gone', 'in').id } as const;
    const noBranch = branch('gone').id;
    const mends: readonly Mend[] = [
      { ...gone, do: 'removeRow' },
      { ...gone, do: 'narrowRow', conditions: [], also: [row('more', 'in')] },
      { do: 'setWhenInDoubt', player: h, says: 'x', branch: noBranch },
      { do: 'setFinish', player: h, says: 'x', branch: noBranch, finish: { kind: 'sit' } },
      {
        do: 'setDepths',
        player: h,
        says: 'x',
        branch: noBranch,
        decideBy: 1,
        breakAt: { from: 1, to: 2 },
      },
      {
        do: 'setDepths',
        player: h,
        says: 'x',
        branch: branch('in').id,
        decideBy: -1,
        breakAt: { from: 1, to: 2 },
      },
    ];
    for (const mend of mends) expect(a.applyMend(mend).ok).toBe(false);
    a.removeCard(h);
    expect(a.applyMend({ do: 'setPolicy', player: h, policy: 'first', says: 'x' }).ok).toBe(false);
    a.undo.undo();
    expect(a.snapshot().board).toEqual(before.board);
  });
});
