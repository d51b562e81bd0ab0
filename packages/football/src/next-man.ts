import { ballX } from './field.ts';
import { formations, playersOf } from './formation.ts';
import { distance, type Point } from './geometry.ts';
import { isLineman, type Play, type Player } from './play.ts';

/** Men on a play. */
export const eleven = 11;

/** Two men nearer than this stand in each other's way. Yards. */
const elbowRoom = 1.2;
/** How far a man who finds his usual spot taken moves over at a time. Yards. */
const step = 1.5;

type Drawn = Pick<Play, 'players' | 'situation'>;

/**
 * Who is put on a play that is short of eleven: a man of the line where five do not stand, whoever takes
 * the snap, then a receiver or back whose letter is free, each in his usual spot or the next free one, in
 * a number nobody wears. Null where eleven stand.
 */
export function nextMan({ players, situation }: Drawn): Player | null {
  if (players.length >= eleven) return null;
  const isFull = {
    line: players.filter(({ position }) => isLineman(position)).length >= 5,
    quarterback: players.some(({ position }) => position === 'QB'),
  };
  const man = usualMen(situation).find(
    ({ id, label, position }) =>
      !(isLineman(position) ? isFull.line : position === 'QB' && isFull.quarterback) &&
      !players.some((one) => one.id === id || one.label.toUpperCase() === label),
  );
  if (!man) return null;
  const ball = ballX(situation);
  return {
    ...man,
    number: freeNumber(players, man.number),
    at: freeSpot(players, man.at, man.at[0] < ball ? -step : step),
  };
}

/** Every man that the formations know, the five inside and the quarterback first. */
function usualMen(situation: Play['situation']): Player[] {
  const all = new Map<string, Player>();
  for (const { id } of formations)
    for (const player of playersOf(id, { strength: 'right', situation }))
      if (!all.has(player.label)) all.set(player.label, player);
  const order = ({ position }: Player): number =>
    isLineman(position) ? 0 : position === 'QB' ? 1 : 2;
  return [...all.values()].sort((a, b) => order(a) - order(b));
}

/** His usual one, or the next of its ten: the ten tell what a man may do. */
function freeNumber(players: readonly Player[], usual: number): number {
  const ten = usual - (usual % 10);
  const wanted = Array.from({ length: 10 }, (_, i) => ten + ((usual + i) % 10));
  return wanted.find((number) => !players.some((one) => one.number === number)) ?? usual;
}

function freeSpot(players: readonly Player[], [x, y]: Point, over: number): Point {
  const isTaken = (spot: Point): boolean =>
    players.some(({ at }) => distance(at, spot) < elbowRoom);
  let spot: Point = [x, y];
  // Toward the ball: outside there may be no field left.
  while (isTaken(spot)) spot = [Math.round((spot[0] - over) * 100) / 100, y];
  return spot;
}
