import { z } from 'zod';

/**
 * A spot on the field in yards: `[x, y]`. x grows to the offence's right from the middle of the
 * field, y grows downfield from the line of scrimmage; behind the line y is negative.
 * One value, never two keys: a shared document then keeps one write per move.
 */
export const pointSchema = z
  .tuple([z.number().min(-60).max(60), z.number().min(-60).max(120)])
  .readonly();
export type Point = z.infer<typeof pointSchema>;

/** The same shape read as a displacement from a player's alignment. */
export type Offset = Point;

export const add = (a: Point, b: Offset): Point => [a[0] + b[0], a[1] + b[1]];
export const subtract = (a: Point, b: Point): Offset => [a[0] - b[0], a[1] - b[1]];
export const scale = (a: Offset, k: number): Offset => [a[0] * k, a[1] * k];
/** By the plain root: `Math.hypot` guards against lengths that no field has, at many times the cost. */
export function distance(a: Point, b: Point): number {
  const x = a[0] - b[0];
  const y = a[1] - b[1];
  return Math.sqrt(x * x + y * y);
}

/** Length in yards of the line through all points; 0 for fewer than two. */
export function pathLength(points: readonly Point[]): number {
  let total = 0;
  for (let i = 1; i < points.length; i++)
    total += distance(points[i - 1] as Point, points[i] as Point);
  return total;
}

/** The point `along` yards down the line through `points`, clamped to its ends. Needs one point at least. */
export function pointAlong(points: readonly [Point, ...Point[]], along: number): Point {
  let left = along;
  let from = points[0];
  for (const to of points.slice(1)) {
    const step = distance(from, to);
    if (left <= step)
      return step === 0 ? to : add(from, scale(subtract(to, from), Math.max(0, left) / step));
    left -= step;
    from = to;
  }
  return from;
}
