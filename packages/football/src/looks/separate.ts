import { distance, type Point } from '../geometry.ts';
import type { Level } from '../look.ts';
import { widest } from './picture.ts';

/** No two defenders are set nearer than this, centre to centre. Yards. */
export const elbowRoom = 0.8;

/** Men drawn exactly that near are apart; sums of decimals are not exact. Yards. */
const touching = 1e-6;

/** The defence's side of the neutral zone. Yards from the ball. */
export const nearestLine = 0.6;

/** Who keeps his spot when two want one: the front is fixed, the others fit themselves to it. */
const order: readonly Level[] = ['line', 'second', 'corner', 'deep'];

/** The same men on spots that are all apart, on the field and on their side of the ball. */
export function separate<T extends { readonly level: Level; readonly at: Point }>(
  men: readonly T[],
  deepest: number,
): T[] {
  const taken: Point[] = [];
  const apart: T[] = [...men];
  for (const level of order)
    for (let i = 0; i < men.length; i++) {
      const man = men[i] as T;
      if (man.level !== level) continue;
      const at = freeSpot(man.at, taken, deepest);
      taken.push(at);
      if (at[0] !== man.at[0] || at[1] !== man.at[1]) apart[i] = { ...man, at };
    }
  return apart;
}

/** The nearest spot to the wanted one that is free: a step deeper first, then to either side. */
function freeSpot(wanted: Point, taken: readonly Point[], deepest: number): Point {
  const start = onField(wanted, deepest);
  if (isFree(start, taken)) return start;
  for (let ring = 1; ring < 40; ring++) {
    const step = ring * (elbowRoom / 2);
    for (const [dx, dy] of directions) {
      const spot = onField([start[0] + dx * step, start[1] + dy * step], deepest);
      if (isFree(spot, taken)) return spot;
    }
  }
  return start;
}

function isFree(spot: Point, taken: readonly Point[]): boolean {
  for (const other of taken) {
    if (Math.abs(other[0] - spot[0]) >= elbowRoom) continue;
    if (!(distance(other, spot) >= elbowRoom - touching)) return false;
  }
  return true;
}

const directions: readonly Point[] = [
  [0, 1],
  [1, 0],
  [-1, 0],
  [1, 1],
  [-1, 1],
  [0, -1],
  [1, -1],
  [-1, -1],
];

const onField = ([x, y]: Point, deepest: number): Point => [
  Math.min(Math.max(x, -widest), widest),
  Math.min(Math.max(y, nearestLine), deepest),
];
