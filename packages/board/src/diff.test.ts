import type { Branch, BranchId, CardHead, Row, RowId } from '@stemline/read-rules/card';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { asPlayerId, boardPlay, fullBoard, handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import type { BoardPlay } from './board-play.ts';
import { createBoardState, inProjectedOrder } from './create.ts';
import { changedElements, describeChanges } from './diff.ts';
import { sameJson } from './json.ts';
import { moved } from './moved.ts';
import { mapRoots, rootsOf } from './schema.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const H = asPlayerId('H');
const head: CardHead = {
  title: '',
  key: {
    levels: ['line', 'second'],
    maxDepth: 7,
    over: null,
    direction: 'inside',
    reach: 6,
    headUp: 0.5,
    tie: 0.3,
  },
  sideMan: { width: 3, depth: 6 },
  policy: 'first',
  whenInDoubt: 'out' as never,
  noKey: null,
};
const branch = (id: string, name: string, breakAt = { from: 6, to: 7 }): Branch =>
  ({
    id,
    name,
    kind: 'route',
    finish: { kind: 'out', angle: 90, run: 8 },
    release: { side: 'free', hesitate: 0 },
    decideBy: 4,
    breakAt,
    eyes: 0.2,
  }) as Branch;
const row = (id: string, leadsTo: string, rushes: boolean): Row => ({
  id: id as RowId,
  conditions: [{ kind: 'is', fact: 'keyRushes', value: rushes }],
  branch: leadsTo as BranchId,
  says: '',
});
const board: BoardPlay = {
  play: handPlay({
    cards: [
      {
        player: H,
        head,
        branches: [branch('in', 'IN'), branch('out', 'OUT')],
        rows: [row('r1', 'in', true), row('r2', 'out', false), row('r3', 'in', true)],
      },
    ],
  }),
  notes: [{ type: 'paragraph', content: [{ type: 'text', text: 'Stay skinny' }] }],
};

/** What is said after `change` has been made on the board above. */
function said(change: (coach: ReturnType<typeof coachAt>) => void): string[] {
  const coach = coachAt(createBoardState(board.play, board.notes), 7);
  const before = coach.snapshot().board;
  change(coach);
  return describeChanges(before, coach.snapshot().board);
}

describe('describeChanges', () => {
  it.each<[string, (coach: ReturnType<typeof coachAt>) => void, string[]]>([
    ['nothing', () => undefined, []],
    [
      'a break',
      (c) => c.putBranch(H, branch('out', 'OUT', { from: 5, to: 6 })),
      ['H: OUT now breaks at 5–6 yd (was 6–7 yd)'],
    ],
    ['a move', (c) => c.movePlayer(asPlayerId('X'), [-18, -0.5]), ['X moved 2 yd toward the ball']],
    [
      'a move back and out',
      (c) => c.movePlayer(asPlayerId('Z'), [19.5, -2.2]),
      ['Z moved 1.5 yd away from the ball and 1 yd back'],
    ],
    [
      'a change of sides',
      (c) => c.movePlayer(asPlayerId('F'), [-3, -5]),
      ['F moved across the ball to the left, 3 yd from it'],
    ],
    [
      'a new name',
      (c) => c.setName('Harbour two'),
      ['The play is now called “Harbour two” (was “Harbour”)'],
    ],
    [
      'another ball',
      (c) => c.setSituation({ ...board.play.situation, spot: 'left', down: 3, toGain: 6 }),
      [
        'The ball is now on the left hash (was in the middle)',
        'It is now third and 6 (was first and 10)',
      ],
    ],
    ['a player gone', (c) => c.removePlayer(H), ['H is gone', "H's read card is gone"]],
    [
      'a player new',
      (c) => {
        c.removePlayer(asPlayerId('F'));
        c.addPlayer({
          id: asPlayerId('U'),
          label: 'U',
          position: 'TE',
          number: 85,
          at: [-4.8, -0.5],
        });
      },
      ['U is new: TE, number 85', 'F is gone'],
    ],
    [
      'a label',
      (c) => c.setPlayerInfo(H, { label: 'A', position: 'WR', number: 11 }),
      ['H is now called A'],
    ],
    [
      'what a row leads to',
      (c) => c.putRow(H, row('r3', 'out', true)),
      ["Row 3 of H's card now leads to OUT (was IN)"],
    ],
    [
      'what a row asks',
      (c) => c.putRow(H, row('r3', 'in', false)),
      ["Row 3 of H's card now asks whether the key does not rush (was whether the key rushes)"],
    ],
    [
      'a new row',
      (c) => c.putRow(H, row('r4', 'out', true)),
      ["Row 4 of H's card is new: it asks whether the key rushes and leads to OUT"],
    ],
    [
      'a row gone',
      (c) => c.removeRow(H, 'r2' as never),
      ["Row 2 of H's card, which led to OUT, is gone"],
    ],
    ['a row that moved', (c) => c.moveRow(H, 'r3' as never, null), ["Row 1 of H's card was row 3"]],
    [
      'the scan',
      (c) => c.setCard(H, { ...head, key: { ...head.key, direction: 'outside', maxDepth: 5 } }),
      ['H now scans outside (was inside)', "H's key now stands no deeper than 5 yd (was 7 yd)"],
    ],
    [
      'when in doubt',
      (c) => c.setCard(H, { ...head, whenInDoubt: 'in' as never }),
      ["When in doubt H's answer is now IN (was OUT)"],
    ],
    ['a card gone', (c) => c.removeCard(H), ["H's read card is gone"]],
    [
      'a motion',
      (c) => c.setMotion(H, { path: [[4, 0]], atSnap: 'moving' }),
      ['H goes in motion 4 yd, still moving at the snap'],
    ],
    [
      'a route, so deep past the line and not past where he stands',
      (c) =>
        c.setRoute(H, {
          release: { side: 'inside', hesitate: 0.3 },
          stem: [[0, 6]],
          finish: [[4, 6]],
          shape: 'sharp',
          name: 'Hinge',
        }),
      ['H has a route “Hinge”: breaks in at 4.8 yd'],
    ],
  ])('%s', (_, change, expected) => {
    expect(said(change)).toEqual(expected);
  });

  it('notes', () => {
    const paragraph = (text: string) => ({ type: 'paragraph', content: [{ type: 'text', text }] });
    const notes = (...texts: string[]): BoardPlay => ({ ...board, notes: texts.map(paragraph) });
    expect(describeChanges(notes('a'), notes('a', 'b', 'c'))).toEqual([
      'The notes changed: 2 paragraphs added',
    ]);
    expect(describeChanges(notes('a', 'b'), notes('a', 'x'))).toEqual([
      'The notes changed: 1 paragraph changed',
    ]);
    expect(describeChanges(notes('a', 'b'), notes('b'))).toEqual([
      'The notes changed: 1 paragraph removed',
    ]);
    expect(describeChanges(notes('a', 'b'), notes('b', 'a'))).toEqual([
      'The notes changed: the order',
    ]);
  });

  it('a play that was not there', () => {
    expect(describeChanges(null, board)).toEqual([
      '“Harbour” is new: 11 players, 0 routes, 1 read card',
    ]);
  });

  it('many who move together are one sentence', () => {
    const words = said((coach) =>
      coach.movePlayers(
        board.play.players
          .slice(0, 6)
          .map(({ id, at }) => ({ player: id, at: [at[0] + 1, at[1]] })),
      ),
    );
    expect(words).toHaveLength(1);
    expect(words[0]).toContain('6 players stand elsewhere');
  });

  it('says something exactly when something a coach can see has changed', () => {
    fc.assert(
      fc.property(boardPlay(), boardPlay(), (a, b) => {
        const [before, after] = [inProjectedOrder(a), inProjectedOrder(b)];
        expect(describeChanges(before, before)).toEqual([]);
        if (!sameJson(before, after)) expect(describeChanges(before, after).join('')).not.toBe('');
        for (const words of describeChanges(before, after))
          expect(words).not.toMatch(/undefined|null|NaN|\[object/);
      }),
    );
  });
});

describe('changedElements', () => {
  it('is what differs in the documents, as far as it shows', () => {
    fc.assert(
      fc.property(
        fullBoard(),
        fc.array(edit(), { minLength: 1, maxLength: 10 }),
        (start, edits) => {
          const coach = coachAt(createBoardState(start.play, start.notes), 7);
          const before = coach.snapshot();
          const { maps } = rootsOf(coach.ydoc);
          const raw = () => Object.fromEntries(mapRoots.map((root) => [root, maps[root].toJSON()]));
          const old = raw();
          for (const each of edits) makeEdit(coach, each);
          const after = coach.snapshot();
          const now = raw();
          const differs = (root: string, key: string): boolean =>
            !sameJson(old[root]?.[key], now[root]?.[key]);
          const changed = changedElements(before, after);
          // Every element named is one whose stored value differs, but for rows that moved because others did.
          for (const name of changed) {
            if (name === 'notes') continue;
            const [root = '', key = ''] = name.split('/');
            expect(differs(root, key) || root === 'rows' || root === 'branches').toBe(true);
          }
          // Every stored value that differs is named, unless it only stands under another order key.
          for (const root of mapRoots) {
            for (const key of new Set([
              ...Object.keys(old[root] ?? {}),
              ...Object.keys(now[root] ?? {}),
            ])) {
              const orderOnly = sameJson(
                { ...old[root]?.[key], order: '' },
                { ...now[root]?.[key], order: '' },
              );
              if (differs(root, key) && !orderOnly) expect(changed).toContain(`${root}/${key}`);
            }
          }
          expect(changedElements(after, before)).toEqual(
            expect.arrayContaining(changed.filter((name) => !/^(rows|branches)/.test(name))),
          );
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('moved', () => {
  const items = (ids: readonly string[]) => ids.map((id) => ({ id }));

  it('names the fewest whose leaving puts the rest in their old order', () => {
    const kept = (ids: readonly string[], old: readonly string[]): boolean =>
      ids.every((id, i) => i === 0 || old.indexOf(ids[i - 1] ?? '') < old.indexOf(id));
    fc.assert(
      fc.property(
        fc
          .uniqueArray(fc.string({ maxLength: 3 }), { maxLength: 7 })
          .chain((ids) =>
            fc.tuple(fc.constant(ids), fc.shuffledSubarray(ids, { minLength: ids.length })),
          ),
        ([ids, shuffled]) => {
          const out = moved(items(ids), items(shuffled));
          expect(
            kept(
              shuffled.filter((id) => !out.includes(id)),
              ids,
            ),
          ).toBe(true);
          // Every subset, so that none that keeps its order is longer.
          const longest = Math.max(
            ...Array.from({ length: 2 ** ids.length }, (_, set) => {
              const some = shuffled.filter((_id, i) => (set >> i) % 2 === 1);
              return kept(some, ids) ? some.length : 0;
            }),
          );
          expect(out).toHaveLength(ids.length - longest);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('one row taken to the front is one that moved', () => {
    expect(moved(items(['a', 'b', 'c', 'd']), items(['d', 'a', 'b', 'c']))).toEqual(['d']);
    expect(moved(items(['a', 'b', 'c']), items(['a', 'x', 'c']))).toEqual([]);
  });
});
