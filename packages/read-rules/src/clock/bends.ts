import { distance, type Point } from '@stemline/football/geometry';

/** A way with its corners run round, and where on it each of its points is. */
export interface Bent {
  readonly points: readonly Point[];
  /** By the point of the sharp way: the index of the point at which he is there, in the middle of a bend. */
  readonly at: readonly number[];
}

const between = (a: Point, b: Point, share: number): Point => [
  a[0] + (b[0] - a[0]) * share,
  a[1] + (b[1] - a[1]) * share,
];

/**
 * Each corner is left for the bend that the drawing shows: from `radius` before it to as far after it,
 * half-way by the middle of the curve. A quarter of the turn is made going in, half of it in the
 * middle, a quarter going out, so a man who runs it round keeps more of his speed.
 */
export function bent(from: Point, way: readonly Point[], radius: number): Bent {
  const points: Point[] = [];
  const at: number[] = [];
  way.forEach((corner, i) => {
    const before = way[i - 1] ?? from;
    const after = way[i + 1];
    const come = distance(before, corner);
    const go = after ? distance(corner, after) : 0;
    const cut = Math.min(radius, come / 2, go / 2);
    if (!after || cut === 0) {
      points.push(corner);
      at.push(points.length - 1);
      return;
    }
    const [into, out] = [between(corner, before, cut / come), between(corner, after, cut / go)];
    points.push(into, between(between(into, out, 0.5), corner, 0.5), out);
    at.push(points.length - 2);
  });
  return { points, at };
}
