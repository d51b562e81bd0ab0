import { add, distance, type Point, scale, subtract } from '@stemline/football/geometry';
import type { Role } from './role.ts';
import type { Primitive, Step } from './scene.ts';

/** Direction from a to b, length 1; null when they are the same spot. */
export function direction(a: Point, b: Point): Point | null {
  const length = distance(a, b);
  return length < 1e-9 ? null : scale(subtract(b, a), 1 / length);
}
const leftOf = (d: Point): Point => [-d[1], d[0]];

/** Direction in which a line arrives at its end; null for a line that goes nowhere. */
export function arrival(points: readonly Point[]): Point | null {
  const end = points.at(-1);
  if (!end) return null;
  for (let i = points.length - 2; i >= 0; i--) {
    const d = direction(points[i] as Point, end);
    if (d) return d;
  }
  return null;
}

/** An arrow head with its tip at the end of the line. */
export function arrowHead(points: readonly Point[], size: number, role: Role): Primitive[] {
  const tip = points.at(-1);
  const d = arrival(points);
  if (!tip || !d) return [];
  const back = add(tip, scale(d, -size));
  const half = scale(leftOf(d), size * 0.46);
  return [{ kind: 'polygon', points: [tip, add(back, half), subtract(back, half)], role }];
}

/** Straight across the end of a line: a block (common practice, no single source). */
export function endBar(points: readonly Point[], half: number, role: Role): Primitive[] {
  const end = points.at(-1);
  if (!end) return [];
  const across = scale(leftOf(arrival(points) ?? [0, 1]), half);
  return [{ kind: 'path', from: add(end, across), steps: [{ to: subtract(end, across) }], role }];
}

/** A dot on the end of a line: he stops here. A bar would be a block. */
export function endDot(points: readonly Point[], radius: number, role: Role): Primitive[] {
  const at = points.at(-1);
  return at ? [{ kind: 'circle', at, radius, role }] : [];
}

/** The line without its first `cut` yards, so that it starts at the edge of a player's mark. */
export function trimStart(points: readonly Point[], cut: number): readonly Point[] {
  let left = cut;
  for (let i = 0; i + 1 < points.length; i++) {
    const from = points[i] as Point;
    const to = points[i + 1] as Point;
    const length = distance(from, to);
    if (length > left) {
      return [add(from, scale(subtract(to, from), left / length)), ...points.slice(i + 1)];
    }
    left -= length;
  }
  return [];
}

/** Straight strokes through all points. */
export function straight(points: readonly Point[], role: Role): Primitive[] {
  const [from, ...rest] = points;
  if (!from || rest.length === 0) return [];
  return [{ kind: 'path', from, steps: rest.map((to) => ({ to })), role }];
}

/** Strokes through all points with corners rounded by up to `radius` yards. */
export function rounded(points: readonly Point[], radius: number, role: Role): Primitive[] {
  const [from, ...rest] = points;
  if (!from || rest.length === 0) return [];
  const steps: Step[] = [];
  let before = from;
  rest.forEach((corner, index) => {
    const after = rest[index + 1];
    const come = direction(before, corner);
    const go = after && direction(corner, after);
    if (!after || !come || !go) {
      steps.push({ to: corner });
    } else {
      const cut = Math.min(radius, distance(before, corner) / 2, distance(corner, after) / 2);
      steps.push({ to: add(corner, scale(come, -cut)) });
      steps.push({ to: add(corner, scale(go, cut)), bend: corner });
    }
    before = corner;
  });
  return [{ kind: 'path', from, steps, role }];
}

/**
 * A zigzag along the line: a man on the move before the snap (common practice, no single source).
 * Begins and ends on the line, so it meets what it joins.
 */
export function zigzag(points: readonly Point[], wave: number, half: number): readonly Point[] {
  const first = points[0];
  if (!first) return [];
  const out: Point[] = [first];
  let side = 1;
  for (let i = 0; i + 1 < points.length; i++) {
    const from = points[i] as Point;
    const to = points[i + 1] as Point;
    const d = direction(from, to);
    if (!d) continue;
    const teeth = Math.max(1, Math.round(distance(from, to) / wave));
    const step = distance(from, to) / teeth;
    for (let tooth = 0; tooth < teeth; tooth++) {
      const along = add(from, scale(d, (tooth + 0.5) * step));
      out.push(add(along, scale(leftOf(d), half * side)));
      side = -side;
    }
    out.push(to);
  }
  return out;
}
