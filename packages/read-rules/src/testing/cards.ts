import { playersOf } from '@stemline/football/formation';
import {
  defenderIdSchema,
  lookIdSchema,
  playerIdSchema,
  reactionIdSchema,
} from '@stemline/football/ids';
import type { AlignedLook, Defender, Level, Move, ReactionChoice } from '@stemline/football/look';
import type { Situation } from '@stemline/football/play';
import fc from 'fast-check';
import {
  type Branch,
  branchIdSchema,
  type CardHead,
  type Condition,
  type ReadCard,
  type Row,
  rowIdSchema,
} from '../card.ts';
import type { FactName } from '../fact-name.ts';
import { factNames, facts } from '../facts.ts';
import type { RuledPlay } from '../ruled-play.ts';

/** Small words for tests: a slot receiver's card on doubles, and looks of a few defenders by hand. */
export const h = playerIdSchema.parse('h');
export const q = playerIdSchema.parse('q');

export const situation: Situation = {
  code: 'highSchool',
  spot: 'middle',
  toGoal: 60,
  down: 1,
  toGain: 10,
};

export const doubles = (cards: readonly ReadCard[] = []): RuledPlay => ({
  name: 'Lantern',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }),
  routes: {} as RuledPlay['routes'],
  motions: {} as RuledPlay['motions'],
  cards,
});

/** Where the slot of `doubles` stands. */
export const slot = (): readonly [number, number] => {
  const player = doubles().players.find(({ id }) => id === h);
  if (!player) throw new Error('doubles has no slot called h');
  return player.at;
};

export const branch = (
  id: string,
  change: Partial<Extract<Branch, { kind: 'route' }>> = {},
): Branch => ({
  id: branchIdSchema.parse(id),
  name: id.toUpperCase(),
  kind: 'route',
  finish: { kind: 'sit' },
  release: { side: 'free', hesitate: 0 },
  decideBy: 4,
  breakAt: { from: 5, to: 6 },
  eyes: 0,
  ...change,
});

export const is = (fact: FactName, value: boolean): Condition => ({ kind: 'is', fact, value });
export const oneOf = (fact: FactName, ...values: string[]): Condition => ({
  kind: 'oneOf',
  fact,
  values,
});

/** `'[2,4)'` as written in mathematics; an empty end is open to everything: `'[2,'`. */
export function range(fact: FactName, interval: string): Condition {
  const [from = '', to = ''] = interval
    .slice(interval.startsWith(',') ? 0 : 1)
    .replace(/[)\]]$/, '')
    .split(',');
  return {
    kind: 'range',
    fact,
    from: from === '' ? null : { at: Number(from), closed: interval.startsWith('[') },
    to: to === '' ? null : { at: Number(to), closed: interval.endsWith(']') },
  };
}

export const row = (id: string, leadsTo: string, ...conditions: Condition[]): Row => ({
  id: rowIdSchema.parse(id),
  conditions,
  branch: branchIdSchema.parse(leadsTo),
  says: '',
});

export const head = (change: Partial<CardHead> = {}): CardHead => ({
  title: '',
  key: {
    levels: ['line', 'second', 'corner'],
    maxDepth: 8,
    over: null,
    direction: 'inside',
    reach: 8,
    headUp: 0.5,
    tie: 0.5,
  },
  sideMan: { width: 4, depth: 8 },
  policy: 'unique',
  whenInDoubt: null,
  noKey: branchIdSchema.parse('in'),
  ...change,
});

/** A card for the slot; its branches are IN, OUT and SIT. */
export const card = (rows: readonly Row[], change: Partial<CardHead> = {}): ReadCard => ({
  player: h,
  head: head(change),
  rows,
  branches: [branch('in'), branch('out'), branch('sit')],
});

export function defender(
  id: string,
  level: Level,
  at: readonly [number, number],
  ...moves: readonly (readonly [Move, readonly [number, number]])[]
): Defender {
  const all = moves.length > 0 ? moves : [['sit', at] as const];
  return {
    id: defenderIdSchema.parse(id),
    label: id.toUpperCase().slice(0, 4),
    level,
    at,
    reactions: all.map(([move, to]) => ({
      id: reactionIdSchema.parse(move),
      move,
      says: move,
      to,
    })),
  };
}

export const look = (...defenders: readonly Defender[]): AlignedLook => ({
  id: lookIdSchema.parse('by-hand'),
  name: 'By hand',
  traits: { front: 'even', shell: 'twoHigh', middle: 'open', coverage: 'zone' },
  defenders,
});

/** One defender's choice among the reactions of `defender`. */
export const choose = (id: string, move: Move): ReactionChoice => ({
  [defenderIdSchema.parse(id)]: reactionIdSchema.parse(move),
});

const bound = (min: number, max: number) =>
  fc.option(
    fc.record({
      at: fc.integer({ min: Math.max(min, -2) * 2, max: Math.min(max, 12) * 2 }).map((n) => n / 2),
      closed: fc.boolean(),
    }),
  );

/** A condition that means something, on bounds that a coach would choose. */
export function conditionOn(fact: FactName): fc.Arbitrary<Condition> {
  const { domain } = facts[fact];
  if (domain.kind === 'boolean') return fc.boolean().map((value) => is(fact, value));
  if (domain.kind === 'enumerated') {
    return fc
      .subarray([...domain.values], { minLength: 1 })
      .map((values) => oneOf(fact, ...values));
  }
  const { min, max, whole } = domain;
  return fc.record({
    kind: fc.constant('range' as const),
    fact: fc.constant(fact),
    from: whole ? bound(min, max).map((b) => b && { ...b, at: Math.round(b.at) }) : bound(min, max),
    to: bound(min, max),
  });
}

/** A card that can be read: rows over a few facts, both policies, with and without standing answers. */
export const anyCard = (names: readonly FactName[] = factNames): fc.Arbitrary<ReadCard> =>
  fc.subarray([...names], { minLength: 1, maxLength: 3 }).chain((asked) =>
    fc
      .record({
        rows: fc.array(
          fc.record({
            conditions: fc.tuple(...asked.map((name) => fc.option(conditionOn(name)))),
            leadsTo: fc.constantFrom('in', 'out', 'sit'),
          }),
          { minLength: 1, maxLength: 5 },
        ),
        policy: fc.constantFrom('first' as const, 'unique' as const),
        direction: fc.constantFrom('inside' as const, 'outside' as const),
      })
      .map(({ rows, policy, direction }) =>
        card(
          rows.map(({ conditions, leadsTo }, i) =>
            row(`r${i + 1}`, leadsTo, ...conditions.filter((condition) => condition !== null)),
          ),
          { policy, key: { ...head().key, direction } },
        ),
      ),
  );
