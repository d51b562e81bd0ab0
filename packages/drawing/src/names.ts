import { add, distance, type Point, scale, subtract } from '@stemline/football/geometry';
import type { View } from './scene.ts';
import { arrival } from './stroke.ts';

/** A name to be put at the end of its line. */
export interface LineName {
  id: string;
  text: string;
  /** Height of the letters' body. Yards. */
  size: number;
  points: readonly Point[];
}

/** What a name keeps clear of. */
export interface InTheWay {
  /** Men, and how far round them. */
  men: readonly { at: Point; radius: number }[];
  lines: readonly (readonly Point[])[];
  view: View;
}

interface Box {
  middle: Point;
  halfWidth: number;
  halfHeight: number;
}

/** Bold capitals, on average, in heights of the letters' body. */
const letterWidth = 0.74;
const lineHeight = 1.15;
/** Between the end of a line and its name. Yards. */
const gap = 0.35;
/** The letters' rim, which would wipe a line out. Yards. */
const rim = 0.3;
/** How close together lines are looked at. Yards. */
const step = 0.4;

/** Straight on first, then further and further to either side; never back along the line. */
const turns = [0, 1, -1, 2, -2, 3, -3].map((eighths) => (eighths * Math.PI) / 4);

/**
 * Where the middle of each name stands: at the end of its line, straight on where there is room,
 * else round the end to where it covers least. Earlier names go before later ones.
 */
export function placeNames(
  names: readonly LineName[],
  { men, lines, view }: InTheWay,
): ReadonlyMap<string, Point> {
  const dots = lines.flatMap(alongLine);
  const placed: Box[] = [];
  const places = new Map<string, Point>();
  for (const name of names) {
    const end = name.points.at(-1);
    if (!end) continue;
    const ahead = arrival(name.points) ?? [0, 1];
    const boxes = turns.map((turn) => within(boxAt(name, end, turned(ahead, turn)), view));
    const costs = boxes.map((box) => cost(box, placed, men, dots));
    const best = boxes[costs.indexOf(Math.min(...costs))];
    if (!best) continue;
    placed.push(best);
    places.set(name.id, best.middle);
  }
  return places;
}

function boxAt({ text, size }: LineName, end: Point, way: Point): Box {
  const halfWidth = (text.length * letterWidth * size) / 2;
  const halfHeight = (lineHeight * size) / 2;
  // As far out as the box is deep that way, so that it just clears the end.
  const out = Math.min(
    Math.abs(way[0]) < 1e-9 ? Number.POSITIVE_INFINITY : (halfWidth + gap) / Math.abs(way[0]),
    Math.abs(way[1]) < 1e-9 ? Number.POSITIVE_INFINITY : (halfHeight + gap) / Math.abs(way[1]),
  );
  return { middle: add(end, scale(way, out)), halfWidth, halfHeight };
}

const turned = ([x, y]: Point, by: number): Point => [
  x * Math.cos(by) - y * Math.sin(by),
  x * Math.sin(by) + y * Math.cos(by),
];

/** Pushed back into the picture, as far as it fits there. */
function within(box: Box, view: View): Box {
  const x = clamp(box.middle[0], view.left + box.halfWidth, view.left + view.width - box.halfWidth);
  const y = clamp(
    box.middle[1],
    view.bottom + box.halfHeight,
    view.bottom + view.height - box.halfHeight,
  );
  return { ...box, middle: [x, y] };
}

const clamp = (value: number, from: number, to: number): number =>
  Math.min(Math.max(value, from), Math.max(from, to));

/** Another name under it hides both, a man hides him, a line is only crossed. */
function cost(
  box: Box,
  placed: readonly Box[],
  men: InTheWay['men'],
  dots: readonly Point[],
): number {
  const names = placed.filter((other) =>
    meets(box, other.middle, other.halfWidth, other.halfHeight),
  );
  const covered = men.filter(({ at, radius }) => meets(box, at, radius, radius));
  const crossed = dots.filter((dot) => meets(box, dot, rim, rim));
  return names.length * 100 + covered.length * 20 + crossed.length;
}

const meets = (box: Box, at: Point, halfWidth: number, halfHeight: number): boolean =>
  Math.abs(box.middle[0] - at[0]) < box.halfWidth + halfWidth &&
  Math.abs(box.middle[1] - at[1]) < box.halfHeight + halfHeight;

function alongLine(points: readonly Point[]): Point[] {
  return points.slice(1).flatMap((to, index) => {
    const from = points[index] as Point;
    const count = Math.max(1, Math.ceil(distance(from, to) / step));
    return Array.from({ length: count + 1 }, (_, at) =>
      add(from, scale(subtract(to, from), at / count)),
    );
  });
}
