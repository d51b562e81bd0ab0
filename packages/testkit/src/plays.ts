import type { BoardPlay } from '@stemline/board/board-play';
import type { PlayerId } from '@stemline/football/ids';
import type { Motion, Player, Position, Route, Situation } from '@stemline/football/play';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import fc from 'fast-check';
import { point, readCard } from './cards.ts';
import { notes } from './notes.ts';
import { text, yards } from './texts.ts';

/** Eleven of a play of ours: a line, a back, a quarterback, two wide, a slot and a tight end. */
const eleven: readonly (readonly [string, Position, number, readonly [number, number]])[] = [
  ['LT', 'T', 72, [-3.2, -0.5]],
  ['LG', 'G', 64, [-1.6, -0.5]],
  ['C', 'C', 55, [0, -0.4]],
  ['RG', 'G', 66, [1.6, -0.5]],
  ['RT', 'T', 75, [3.2, -0.5]],
  ['Y', 'TE', 87, [4.8, -0.5]],
  ['X', 'WR', 81, [-20, -0.5]],
  ['Z', 'WR', 88, [18, -1.2]],
  ['H', 'WR', 11, [-8, -1.2]],
  ['F', 'RB', 22, [2, -5]],
  ['Q', 'QB', 7, [0, -5]],
];

export const asPlayerId = (id: string): PlayerId => id as PlayerId;

/** A legal eleven by hand, ids as labels. */
export const handPlayers = (): Player[] =>
  eleven.map(([label, position, number, at]) => ({
    id: asPlayerId(label),
    label,
    position,
    number,
    at,
  }));

export const plainSituation: Situation = {
  code: 'college',
  spot: 'middle',
  toGoal: 50,
  down: 1,
  toGain: 10,
};

/** A play with nothing on it but players. */
export const handPlay = (change: Partial<RuledPlay> = {}): RuledPlay => ({
  name: 'Harbour',
  concept: 'Crossing',
  situation: plainSituation,
  players: handPlayers(),
  routes: {} as RuledPlay['routes'],
  motions: {} as RuledPlay['motions'],
  cards: [],
  ...change,
});

export const position = (): fc.Arbitrary<Position> =>
  fc.constantFrom('C', 'G', 'T', 'TE', 'WR', 'RB', 'QB');

const path = (min: number): fc.Arbitrary<(readonly [number, number])[]> =>
  fc.array(point() as fc.Arbitrary<readonly [number, number]>, { minLength: min, maxLength: 6 });

export const route = (): fc.Arbitrary<Route> =>
  fc.record({
    release: fc.record({
      side: fc.constantFrom('free' as const, 'inside' as const, 'outside' as const),
      hesitate: yards(0, 2),
    }),
    stem: path(1),
    finish: path(0),
    shape: fc.constantFrom('sharp' as const, 'rounded' as const),
    name: text(20),
  });

export const motion = (): fc.Arbitrary<Motion> =>
  fc.record({ path: path(1), atSnap: fc.constantFrom('moving' as const, 'set' as const) });

export const situation = (): fc.Arbitrary<Situation> =>
  fc.record({
    code: fc.constantFrom('highSchool' as const, 'college' as const, 'professional' as const),
    spot: fc.constantFrom('left' as const, 'middle' as const, 'right' as const),
    toGoal: fc.integer({ min: 1, max: 99 }),
    down: fc.integer({ min: 1, max: 4 }),
    toGain: fc.integer({ min: 1, max: 99 }),
  });

/** Up to eleven players, each with a place, a trade and a number of his own. */
const players = (): fc.Arbitrary<Player[]> =>
  fc.subarray(handPlayers()).chain((some) =>
    fc.tuple(
      ...some.map((player) =>
        fc.record({
          id: fc.constant(player.id),
          label: fc.oneof(fc.constant(player.label), text(4, 1)),
          position: fc.oneof({ weight: 4, arbitrary: fc.constant(player.position) }, position()),
          number: fc.integer({ min: 0, max: 99 }),
          at: point(),
        }),
      ),
    ),
  );

const ofSome = <T>(
  ids: readonly PlayerId[],
  value: fc.Arbitrary<T>,
): fc.Arbitrary<Record<PlayerId, T>> =>
  fc
    .subarray([...ids])
    .chain((some) => fc.tuple(...some.map((id) => value.map((each) => [id, each] as const))))
    .map((entries) => Object.fromEntries(entries) as Record<PlayerId, T>);

const ruledPlayOf = (eleven: fc.Arbitrary<Player[]>): fc.Arbitrary<RuledPlay> =>
  eleven.chain((list) => {
    const ids = list.map((player) => player.id);
    return fc.record({
      name: text(40, 1),
      concept: text(40),
      situation: situation(),
      players: fc.constant(list),
      routes: ofSome(ids, route()),
      motions: ofSome(ids, motion()),
      cards: fc
        .subarray(ids, { maxLength: Math.min(3, ids.length) })
        .chain((some) => fc.tuple(...some.map((id) => readCard(id, ids)))),
    });
  });

/** A play as it may stand on a board: any number of players, legal or not, cards half done. */
export const ruledPlay = (): fc.Arbitrary<RuledPlay> => ruledPlayOf(players());

/** A board with all eleven on it, so that most edits find their player. */
export const fullBoard = (): fc.Arbitrary<BoardPlay> =>
  fc.record({ play: ruledPlayOf(fc.constant(handPlayers())), notes: notes() });

export const boardPlay = (): fc.Arbitrary<BoardPlay> =>
  fc.record({ play: ruledPlay(), notes: notes() });
