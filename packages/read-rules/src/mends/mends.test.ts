import { alignLook, builtInLooks } from '@stemline/football/shelf';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import type { ReadCard } from '../card.ts';
import { check } from '../check.ts';
import { evaluate } from '../evaluate.ts';
import { type Finding, type FindingKind, findingSchema } from '../finding.ts';
import { createRecheck } from '../recheck/recheck.ts';
import type { RuledPlay } from '../ruled-play.ts';
import {
  anyCard,
  branch,
  card,
  doubles,
  h,
  head,
  is,
  oneOf,
  q,
  range,
  row,
} from '../testing/cards.ts';
import { applyMend } from './apply.ts';
import { type Mend, mendSchema } from './mend.ts';
import { reproved } from './reprove.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const shelf = builtInLooks.slice(0, 6);
const found = (play: RuledPlay, kind: Finding['kind']): Finding[] =>
  check(play, shelf).filter((one) => one.kind === kind);
const mendsOf = (play: RuledPlay, kind: Finding['kind']): readonly Mend[] =>
  found(play, kind).flatMap(({ mends }) => mends ?? []);
const his = (play: RuledPlay): ReadCard => {
  const own = play.cards.find(({ player }) => player === h);
  if (!own) throw new Error('the slot has no card');
  return own;
};
const applied = (play: RuledPlay, mend: Mend | undefined): RuledPlay => {
  if (!mend) throw new Error('no mend is offered');
  return applyMend(play, mend);
};

/** A stop that the play did not have: its witness shows nothing wrong on the play as it was. */
function isNew(stop: Finding, before: RuledPlay, old: readonly Finding[]): boolean {
  if (old.some(({ id, severity }) => id === stop.id && severity === 'stop')) return false;
  if (!stop.witness || (stop.kind !== 'gap' && stop.kind !== 'clash')) return true;
  // What is left of a gap or clash that was there has another region, and so another id.
  const { look, reactions } = stop.witness;
  return evaluate(before, his(before), look, reactions).row !== null;
}

describe('mends', () => {
  it('M1 each takes its finding away and brings no stop', () => {
    const tried = new Map<Mend['do'], number>();
    fc.assert(
      fc.property(anyCard(), (own) => {
        const play = doubles([own]);
        const before = check(play, shelf);
        for (const finding of before) {
          for (const mend of finding.mends ?? []) {
            expect(mendSchema.safeParse(mend).success).toBe(true);
            const after = check(applyMend(play, mend), shelf);
            expect(after.map(({ id }) => id)).not.toContain(finding.id);
            const stops = after.filter(({ severity }) => severity === 'stop');
            expect(stops.filter((stop) => isNew(stop, play, before))).toEqual([]);
            tried.set(mend.do, (tried.get(mend.do) ?? 0) + 1);
          }
        }
      }),
      { numRuns: 150 },
    );
    for (const kind of ['addRow', 'narrowRow', 'removeRow', 'setWhenInDoubt', 'setPolicy'] as const)
      expect(tried.get(kind) ?? 0).toBeGreaterThan(5);
  });

  it('M2 changes what is answered only where the finding is', () => {
    let compared = 0;
    fc.assert(
      fc.property(anyCard(), (own) => {
        const play = doubles([own]);
        const looks = [
          ...check(play, builtInLooks).flatMap(({ witness }) => witness ?? []),
          ...shelf.map((recipe) => ({ look: alignLook(recipe, play), reactions: {} })),
        ];
        for (const finding of check(play, shelf)) {
          for (const mend of finding.mends ?? []) {
            if (mend.do === 'setPolicy' || mend.do === 'setWhenInDoubt') continue;
            const after = applyMend(play, mend);
            for (const { look, reactions } of looks) {
              const was = evaluate(play, own, look, reactions);
              const is = evaluate(after, his(after), look, reactions);
              if (was.row === null || was.key.kind !== 'one') continue;
              expect(is.branch?.id).toBe(was.branch?.id);
              compared += 1;
            }
          }
        }
      }),
      { numRuns: 80 },
    );
    expect(compared).toBeGreaterThan(100);
  });

  const stopping: readonly FindingKind[] = [
    'illegalFormation',
    'offThePage',
    'gap',
    'clash',
    'noKey',
    'twoKeys',
    'lateDecision',
    'unseen',
    'unfinished',
  ];

  it('M1 holds on a play with throws for every mend that is left after trying', () => {
    const thrower: ReadCard = {
      ...card(
        [row('comes', 'in', is('keyRushes', true)), row('stays', 'out', is('keyRushes', false))],
        {
          key: { ...head().key, over: h },
        },
      ),
      player: q,
      branches: [
        { id: branch('in').id, name: 'OPTION', kind: 'target', player: h },
        { id: branch('out').id, name: 'BACK', kind: 'target', player: h },
      ],
    };
    let left = 0;
    fc.assert(
      fc.property(anyCard(['keyRushes', 'manOutside', 'roomInside', 'middle']), (own) => {
        const play = doubles([
          { ...own, branches: own.branches.map((one) => ({ ...one, decideBy: 3 })) },
          thrower,
        ]);
        const recheck = createRecheck(shelf);
        const before = reproved(play, recheck.check(play), recheck);
        const stops = new Set(
          before.filter(({ severity }) => severity === 'stop').map(({ kind }) => kind),
        );
        const hidden = before
          .filter(({ kind }) => kind === 'neverUsed')
          .map(({ elements }) => elements[0]);
        for (const finding of before) {
          // Of what is asked of the play as a whole, a try asks again only what may stop it.
          if (finding.severity === 'stop') expect(stopping).toContain(finding.kind);
          for (const mend of finding.mends ?? []) {
            const after = check(applyMend(play, mend), shelf);
            expect(after.map(({ id }) => id)).not.toContain(finding.id);
            const stopsAfter = after.filter(({ severity }) => severity === 'stop');
            for (const stop of stopsAfter) expect([...stops]).toContain(stop.kind);
            const were = before.filter(({ severity }) => severity === 'stop').length;
            expect(stopsAfter.length).toBeLessThanOrEqual(
              were - (finding.severity === 'stop' ? 1 : 0),
            );
            const unused = after.filter(({ kind }) => kind === 'neverUsed');
            for (const { elements } of unused) expect(hidden).toContainEqual(elements[0]);
            left += 1;
          }
        }
        expect(recheck.check(play)).toEqual(check(play, shelf));
      }),
      { numRuns: 30 },
    );
    expect(left).toBeGreaterThan(20);
  });

  it('M3 gap: the row to add, once for each branch, the nearest first', () => {
    const play = doubles([
      card([
        row('walled', 'out', is('manOutside', false), range('roomInside', '[,2)')),
        row('win', 'in', is('manOutside', false), range('roomInside', '[2,')),
        row('bracket', 'sit', is('manOutside', true), is('keyRushes', true)),
      ]),
    ]);
    const mends = mendsOf(play, 'gap');
    expect(mends.map(({ says }) => says)).toEqual([
      'When a man stands outside of him and the key does not rush: SIT.',
      'When a man stands outside of him and the key does not rush: IN.',
      'When a man stands outside of him and the key does not rush: OUT.',
    ]);
    const after = applied(play, mends[0]);
    expect(his(after).rows.at(-1)?.conditions).toEqual([
      is('manOutside', true),
      is('keyRushes', false),
    ]);
    expect(found(after, 'gap')).toEqual([]);
  });

  it('M3 gap: no row that asks for what the reader never sees, but what he does when in doubt', () => {
    const play = doubles([card([row('man', 'in', oneOf('coverage', 'man'))])]);
    const mends = mendsOf(play, 'gap');
    expect(mends).toMatchObject([{ do: 'setWhenInDoubt', branch: 'in' }]);
    expect(found(applied(play, mends[0]), 'gap')).toEqual([]);
  });

  it('M4 clash: either row narrowed, exactly, or the order left to decide', () => {
    const play = doubles([
      card(
        [
          row('win', 'in', range('roomInside', '[2,')),
          row('bracket', 'sit', is('manOutside', true), is('keyRushes', false)),
        ],
        { whenInDoubt: branch('out').id },
      ),
    ]);
    const mends = mendsOf(play, 'clash');
    expect(mends.map((mend) => mend.do)).toEqual(['narrowRow', 'narrowRow', 'setPolicy']);
    const bracketLess = his(applied(play, mends[0])).rows;
    expect(bracketLess).toHaveLength(2);
    expect(bracketLess[1]?.conditions).toEqual([
      is('manOutside', true),
      is('keyRushes', false),
      range('roomInside', '[,2)'),
    ]);
    const winLess = his(applied(play, mends[1])).rows.map(({ conditions }) => conditions);
    expect(winLess).toEqual([
      [range('roomInside', '[2,'), is('manOutside', false)],
      [range('roomInside', '[2,'), is('manOutside', true), is('keyRushes', true)],
      [is('manOutside', true), is('keyRushes', false)],
    ]);
  });

  it('M5 never used: remove it, unless it is all there is', () => {
    const all = row('all', 'in');
    const play = doubles([
      card([all, row('more', 'out', is('keyRushes', true))], { policy: 'first' }),
    ]);
    expect(mendsOf(play, 'neverUsed')).toMatchObject([{ do: 'removeRow', row: 'more' }]);
    const lone = doubles([
      card([row('no', 'in', oneOf('keyMove', 'rush'), oneOf('keyMove', 'drop'))]),
    ]);
    expect(found(lone, 'neverUsed')).toHaveLength(1);
    expect(mendsOf(lone, 'neverUsed')).toEqual([]);
  });

  it('M6 no default: what he answers when in doubt', () => {
    const play = doubles([
      card([row('all', 'in'), row('more', 'out', is('keyRushes', true))], { policy: 'first' }),
    ]);
    const mends = mendsOf(play, 'noDefault');
    expect(mends.map(({ says }) => says)).toEqual([
      'When in doubt, H answers IN.',
      'When in doubt, H answers OUT.',
    ]);
    expect(found(applied(play, mends[0]), 'noDefault')).toEqual([]);
  });

  it('M7 late decision: decide sooner, or break later', () => {
    const own = card([
      row('all', 'in', is('manOutside', true)),
      row('rest', 'out', is('manOutside', false)),
    ]);
    const play = doubles([
      { ...own, branches: [branch('in', { decideBy: 5.5 }), branch('out'), branch('sit')] },
    ]);
    const mends = mendsOf(play, 'lateDecision');
    expect(mends).toMatchObject([
      { do: 'setDepths', decideBy: 5, breakAt: { from: 5, to: 6 } },
      { do: 'setDepths', decideBy: 5.5, breakAt: { from: 5.5, to: 6 } },
    ]);
    for (const mend of mends) expect(found(applied(play, mend), 'lateDecision')).toEqual([]);
  });

  it('M7 unseen: decide once it shows; none where rows measure room at the decision', () => {
    const rows = [
      row('deep', 'in', oneOf('middle', 'open')),
      row('rest', 'in', oneOf('middle', 'closed')),
    ];
    const early = { ...card(rows), branches: [branch('in', { decideBy: 2 })] };
    const mends = mendsOf(doubles([early]), 'unseen');
    expect(mends[0]).toMatchObject({ do: 'setDepths', decideBy: 4, breakAt: { from: 5, to: 6 } });
    expect(found(applied(doubles([early]), mends[0]), 'unseen')).toEqual([]);
    const measures = { ...early, rows: [...rows, row('room', 'in', range('roomInside', '[2,'))] };
    expect(mendsOf(doubles([measures]), 'unseen')).toEqual([]);
  });

  it('M8 leaves a play as it is where what it would change is gone, and the play it is given always', () => {
    const play = doubles([card([row('a', 'in', is('keyRushes', true))])]);
    const before = JSON.stringify(play);
    const [gap] = mendsOf(play, 'gap');
    expect(applied(play, gap)).not.toBe(play);
    expect(JSON.stringify(play)).toBe(before);
    expect(applied(doubles(), gap).cards).toEqual([]);
    const gone = {
      do: 'removeRow',
      player: h,
      row: row('x', 'in').id,
      says: 'Remove it.',
    } as const;
    expect(applyMend(play, gone)).toBe(play);
  });

  it('M8 the protocol carries them', () => {
    const play = doubles([card([row('a', 'in', is('keyRushes', true))])]);
    for (const finding of check(play, shelf)) {
      expect(findingSchema.parse(JSON.parse(JSON.stringify(finding)))).toEqual(finding);
    }
  });
});
