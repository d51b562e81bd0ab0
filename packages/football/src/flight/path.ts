import { fly } from './arc.ts';
import type { Flight } from './throw.ts';

/**
 * A flight as a function of time. Between knots both coordinates are the polynomials of fifth degree
 * in time that share place, velocity and acceleration with the flight at both knots; the distance
 * from the integrated flight is held under 10⁻⁶ yd by `flight-path.test.ts`.
 */
export interface BallPath {
  /** Seconds from release, ascending; the first is 0, the last the catch. */
  readonly knots: readonly number[];
  /** One a panel: coefficients in seconds from its knot, lowest first. yd along the ground. */
  readonly distance: readonly Quintic[];
  /** yd above the ground. */
  readonly height: readonly Quintic[];
  /** When the ball is highest, seconds from release. */
  readonly apexTime: number;
}

type Quintic = readonly [number, number, number, number, number, number];

/** Panels in q = asinh(slope). */
const panelWidth = 0.25;

interface Knot {
  readonly time: number;
  /** Place, velocity, acceleration, along the ground and up. */
  readonly along: readonly [number, number, number];
  readonly up: readonly [number, number, number];
}

export function ballPath(flight: Flight): BallPath {
  const { arc } = flight;
  const start = arc.start;
  const end = Math.asinh(flight.arrival);
  const panels = Math.max(2, Math.ceil((start - end) / panelWidth));
  const knots = Array.from({ length: panels + 1 }, (_, i) =>
    knotAt(flight, i === panels ? flight.arrival : Math.sinh(start + ((end - start) * i) / panels)),
  );
  const pairs = knots.slice(1).map((to, i) => [knots[i] as Knot, to] as const);
  return {
    knots: knots.map(({ time }) => time),
    distance: pairs.map(([from, to]) => quintic(from.along, to.along, to.time - from.time)),
    height: pairs.map(([from, to]) => quintic(from.up, to.up, to.time - from.time)),
    apexTime: fly(arc, Math.min(arc.slope, Math.max(flight.arrival, 0))).time,
  };
}

function knotAt({ arc, releaseHeight }: Flight, slope: number): Knot {
  const flown = fly(arc, slope);
  const across = 1 / Math.sqrt(flown.inverseSquare);
  const rising = across * slope;
  const slowing = arc.drag * across * Math.sqrt(1 + slope * slope);
  return {
    time: flown.time,
    along: [flown.distance, across, -slowing * across],
    up: [releaseHeight + flown.rise, rising, -arc.gravity - slowing * rising],
  };
}

/** The fifth-degree polynomial with these values, slopes and second derivatives at 0 and at `h`. */
function quintic(a: Knot['along'], b: Knot['along'], h: number): Quintic {
  const gap = b[0] - a[0] - h * (a[1] + (h * a[2]) / 2);
  const turn = h * (b[1] - a[1] - h * a[2]);
  const bend = h * h * (b[2] - a[2]);
  return [
    a[0],
    a[1],
    a[2] / 2,
    (10 * gap - 4 * turn + bend / 2) / h ** 3,
    (-15 * gap + 7 * turn - bend) / h ** 4,
    (6 * gap - 3 * turn + bend / 2) / h ** 5,
  ];
}

const at = ([c0, c1, c2, c3, c4, c5]: Quintic, s: number): number =>
  c0 + s * (c1 + s * (c2 + s * (c3 + s * (c4 + s * c5))));

function panelOf(path: BallPath, time: number): number {
  let panel = path.distance.length - 1;
  while (panel > 0 && time < (path.knots[panel] as number)) panel--;
  return panel;
}

const clamped = (path: BallPath, time: number): number =>
  Math.min(Math.max(time, 0), path.knots.at(-1) as number);

/** Along the ground from the release, yd; before the release 0, after the catch where it was caught. */
export function ballDistance(path: BallPath, time: number): number {
  const t = clamped(path, time);
  const panel = panelOf(path, t);
  return at(path.distance[panel] as Quintic, t - (path.knots[panel] as number));
}

/** Above the ground, yd; before the release and after the catch as there. */
export function ballHeight(path: BallPath, time: number): number {
  const t = clamped(path, time);
  const panel = panelOf(path, t);
  return at(path.height[panel] as Quintic, t - (path.knots[panel] as number));
}

/** From one time to another, seconds from release. */
export type Span = readonly [from: number, to: number];

/**
 * When the ball flies no higher than `reach` (yd above the ground): as its height rises and falls
 * once, at most one span after the release and one before the catch, or the whole flight.
 */
export function spansBelow(path: BallPath, reach: number): readonly Span[] {
  const caught = path.knots.at(-1) as number;
  if (ballHeight(path, path.apexTime) <= reach) return [[0, caught]];
  const spans: Span[] = [];
  if (ballHeight(path, 0) <= reach) spans.push([0, crossing(path, reach, 0, path.apexTime)]);
  if (ballHeight(path, caught) <= reach)
    spans.push([crossing(path, reach, caught, path.apexTime), caught]);
  return spans;
}

/** Where the height passes `reach` between a time at or below it and one above it; to 10⁻¹² s. */
function crossing(path: BallPath, reach: number, below: number, above: number): number {
  let low = below;
  let high = above;
  while (Math.abs(high - low) > 1e-12) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (ballHeight(path, middle) <= reach) low = middle;
    else high = middle;
  }
  return low;
}
