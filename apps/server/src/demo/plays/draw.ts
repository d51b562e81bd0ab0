import { playersOf } from '@stemline/football/formation';
import type { Offset } from '@stemline/football/geometry';
import { type PlayerId, playerIdSchema } from '@stemline/football/ids';
import type { Motion, Player, Route, Situation } from '@stemline/football/play';
import {
  type Bound,
  type Branch,
  branchIdSchema,
  type Condition,
  type Finish,
  type ReadCard,
  type Row,
  rowIdSchema,
} from '@stemline/read-rules/card';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';

/** Short ways to write a play down. Inside is toward the ball for whoever runs the route. */

const situation: Situation = {
  code: 'highSchool',
  spot: 'middle',
  toGoal: 65,
  down: 1,
  toGain: 10,
};

export const id = (label: string): PlayerId => playerIdSchema.parse(label.toLowerCase());

/** Yards toward the ball (negative: away from it) and yards upfield, from where he stands. */
type Step = readonly [inside: number, up: number];

interface Run {
  readonly name: string;
  readonly stem: readonly Step[];
  readonly finish?: readonly Step[];
  readonly hesitate?: number;
  readonly side?: Route['release']['side'];
  readonly rounded?: boolean;
}

export interface Drawn {
  readonly name: string;
  readonly concept: string;
  readonly formation: string;
  readonly strength?: 'left' | 'right';
  readonly runs: Readonly<Record<string, Run>>;
  readonly motions?: Readonly<Record<string, { steps: readonly Step[]; atSnap: Motion['atSnap'] }>>;
  readonly cards?: readonly ReadCard[];
}

export function draw(play: Drawn): RuledPlay {
  const players = playersOf(play.formation, { strength: play.strength ?? 'right', situation });
  const steps = (label: string, list: readonly Step[]): Offset[] => {
    const inside = insideOf(players, id(label));
    return list.map(([x, y]) => [x * inside, y]);
  };
  return {
    name: play.name,
    concept: play.concept,
    situation,
    players,
    routes: Object.fromEntries(
      Object.entries(play.runs).map(([label, run]): [string, Route] => [
        id(label),
        {
          name: run.name,
          release: { side: run.side ?? 'free', hesitate: run.hesitate ?? 0 },
          stem: steps(label, run.stem),
          finish: steps(label, run.finish ?? []),
          shape: run.rounded ? 'rounded' : 'sharp',
        },
      ]),
    ),
    motions: Object.fromEntries(
      Object.entries(play.motions ?? {}).map(([label, motion]): [string, Motion] => [
        id(label),
        { path: steps(label, motion.steps), atSnap: motion.atSnap },
      ]),
    ),
    cards: play.cards ?? [],
  };
}

/** +1 or -1: which way the ball is. The ball lies in the middle in every play of the demo. */
function insideOf(players: readonly Player[], player: PlayerId): 1 | -1 {
  const at = players.find((one) => one.id === player)?.at;
  return at !== undefined && at[0] > 0 ? -1 : 1;
}

export const row = (
  name: string,
  conditions: readonly Condition[],
  branch: string,
  says: string,
): Row => ({
  id: rowIdSchema.parse(name),
  conditions,
  branch: branchIdSchema.parse(branch),
  says,
});

export const is = (fact: Condition['fact'], value: boolean): Condition => ({
  kind: 'is',
  fact,
  value,
});
export const oneOf = (fact: Condition['fact'], ...values: string[]): Condition => ({
  kind: 'oneOf',
  fact,
  values,
});
const bound = (at: number, closed: boolean): Bound => ({ at, closed });
/** From this many, itself included. */
export const atLeast = (fact: Condition['fact'], at: number): Condition => ({
  kind: 'range',
  fact,
  from: bound(at, true),
  to: null,
});
/** Below this many, itself left out. */
export const under = (fact: Condition['fact'], at: number): Condition => ({
  kind: 'range',
  fact,
  from: null,
  to: bound(at, false),
});
export const exactly = (fact: Condition['fact'], at: number): Condition => ({
  kind: 'range',
  fact,
  from: bound(at, true),
  to: bound(at, true),
});

/** A way to finish an option route: decided by 4 yd, broken at 5 to 6 after a slight hesitation. */
export const ending = (name: string, finish: Finish, decideBy = 4, from = 5, to = 6): Branch => ({
  kind: 'route',
  id: branchIdSchema.parse(name.toLowerCase().replace(/[^a-z]/g, '')),
  name,
  finish,
  release: { side: 'free', hesitate: 0.2 },
  decideBy,
  breakAt: { from, to },
  eyes: 0.2,
});

export const target = (name: string, label: string): Branch => ({
  kind: 'target',
  id: branchIdSchema.parse(name.toLowerCase().replace(/[^a-z]/g, '')),
  name,
  player: id(label),
});

export const block = (name: string, what: string): Branch => ({
  kind: 'block',
  id: branchIdSchema.parse(name.toLowerCase().replace(/[^a-z]/g, '')),
  name,
  what,
});

export const branch = (name: string) => branchIdSchema.parse(name);
