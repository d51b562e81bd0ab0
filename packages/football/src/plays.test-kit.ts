import fc from 'fast-check';
import { formations, playersOf } from './formation.ts';
import type { Point } from './geometry.ts';
import { playerIdSchema } from './ids.ts';
import type { Side } from './offensive-line.ts';
import {
  type Motion,
  type Play,
  type Player,
  positionSchema,
  type Route,
  type Situation,
  type Spot,
} from './play.ts';
import { ruleCodeSchema } from './rulecode.ts';

/** Plays for the tests of this package: formations as they are given, and drawings as they may come. */

export const midfield: Situation = {
  code: 'college',
  spot: 'middle',
  toGoal: 60,
  down: 1,
  toGain: 10,
};

export const id = (name: string) => playerIdSchema.parse(name);

export const playOf = (players: readonly Player[], situation: Situation = midfield): Play => ({
  name: 'Test play',
  concept: '',
  situation,
  players,
  routes: {},
  motions: {},
});

export const formationPlay = (
  formationId: string,
  { strength = 'right', situation = midfield }: { strength?: Side; situation?: Situation } = {},
): Play => playOf(playersOf(formationId, { strength, situation }), situation);

export const withMotion = (play: Play, player: string, motion: Motion): Play => ({
  ...play,
  motions: { ...play.motions, [id(player)]: motion },
});

export const anySituation: fc.Arbitrary<Situation> = fc.record({
  code: fc.constantFrom(...ruleCodeSchema.options),
  spot: fc.constantFrom('left' as const, 'middle' as const, 'right' as const),
  toGoal: fc.integer({ min: 1, max: 99 }),
  down: fc.integer({ min: 1, max: 4 }),
  toGain: fc.integer({ min: 1, max: 30 }),
});

const anyPoint = (x: number, fromY: number, toY: number): fc.Arbitrary<Point> =>
  fc
    .tuple(
      fc.integer({ min: -x * 20, max: x * 20 }),
      fc.integer({ min: fromY * 20, max: toY * 20 }),
    )
    .map(([a, b]): Point => [a / 20, b / 20]);

const anyMotion: fc.Arbitrary<Motion> = fc.record({
  path: fc.array(anyPoint(25, -6, 3), { minLength: 1, maxLength: 3 }),
  atSnap: fc.constantFrom('moving' as const, 'set' as const),
});

/** A play as anybody might have left it: any number of men, anywhere, any of them on the move. */
export const anyDrawing: fc.Arbitrary<Play> = fc
  .record({
    situation: anySituation,
    men: fc.array(
      fc.record({
        position: fc.constantFrom(...positionSchema.options),
        number: fc.integer({ min: 0, max: 99 }),
        at: anyPoint(26, -10, 1),
        motion: fc.option(anyMotion, { freq: 4 }),
      }),
      { maxLength: 11 },
    ),
  })
  .map(({ situation, men }) => {
    const players = men.map(
      ({ position, number, at }, i): Player => ({
        id: id(`p${i}`),
        label: `P${i}`,
        position,
        number,
        at,
      }),
    );
    const motions = Object.fromEntries(
      men.flatMap(({ motion }, i) => (motion ? [[id(`p${i}`), motion]] : [])),
    );
    return { ...playOf(players, situation), motions };
  });

/** One of the formations, either way, from any spot, with one of its receivers sent anywhere across or none. */
export const anyFormation: fc.Arbitrary<Play> = fc
  .record({
    formation: fc.constantFrom(...formations.map((formation) => formation.id)),
    strength: fc.constantFrom('left' as const, 'right' as const),
    situation: anySituation,
    mover: fc.nat(),
    across: fc.option(fc.integer({ min: -30, max: 30 })),
  })
  .map(({ formation, strength, situation, mover, across }) => {
    const play = formationPlay(formation, { strength, situation });
    const skill = play.players.filter(({ position }) => position === 'WR' || position === 'RB');
    const player = skill[mover % skill.length];
    if (across === null || !player) return play;
    const x = Math.min(Math.max(player.at[0] + across, -26), 26) - player.at[0];
    return withMotion(play, player.id, { path: [[x, 0]], atSnap: 'moving' });
  });

const otherSpot: Readonly<Record<Spot, Spot>> = { left: 'right', middle: 'middle', right: 'left' };

/** -0 becomes 0. */
const mirrorPoint = ([x, y]: Point): Point => [-x + 0, y];

const mirrorRoute = (route: Route): Route => ({
  ...route,
  stem: route.stem.map(mirrorPoint),
  finish: route.finish.map(mirrorPoint),
});

const mirrorMotion = (motion: Motion): Motion => ({
  ...motion,
  path: motion.path.map(mirrorPoint),
});

/** The same play run to the other side, from the other hash. */
export function mirrorPlay<P extends Play>(play: P): P {
  return {
    ...play,
    situation: { ...play.situation, spot: otherSpot[play.situation.spot] },
    players: play.players.map((player) => ({ ...player, at: mirrorPoint(player.at) })),
    routes: mapValues(play.routes, mirrorRoute),
    motions: mapValues(play.motions, mirrorMotion),
  };
}

const mapValues = <K extends string, V>(
  record: Readonly<Partial<Record<K, V>>>,
  change: (value: V) => V,
): Record<K, V> =>
  Object.fromEntries(
    Object.entries<V | undefined>(record).flatMap(([key, value]) =>
      value === undefined ? [] : [[key, change(value)]],
    ),
  ) as Record<K, V>;
