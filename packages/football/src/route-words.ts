import { type Point, subtract } from './geometry.ts';
import type { Player, Route } from './play.ts';
import { breakDepth, breakPoint, insideSign, routePoints } from './route.ts';
import { settles } from './route-end.ts';
import { degrees } from './units.ts';

/** A length in the words of whoever asks; never below zero. */
type Length = (yards: number) => string;

/** Who turns by less than this bends; by more, he breaks. Degrees. */
const leastBreak = 20;
/** Who leaves his way by less than this goes straight on. Yards. */
const straightOn = 0.5;
/** This near to straight up or down the field, a way is neither in nor out; a bend shows sooner. Degrees. */
const nearlyUpfield = { break: 10, bend: 3 };
/** Who stops so far back from his break has come back to the ball. Yards. */
const leastBack = 1.5;

const atLine = (y: number): boolean => Math.abs(y) < 0.05;
const behind = (y: number, length: Length): string => `${length(-y)} behind the line`;

/** "at 5 yards", "at the line", "5 yards behind the line". */
const at = (y: number, length: Length): string =>
  atLine(y) ? 'at the line' : y > 0 ? `at ${length(y)}` : behind(y, length);

/** "to 5 yards", "to the line", "to 5 yards behind the line". */
const to = (y: number, length: Length): string =>
  `to ${atLine(y) ? 'the line' : y > 0 ? length(y) : behind(y, length)}`;

/** What a route does, as it is told to who does not see it. `player` stands where he is at the snap. */
export function routeInWords(
  player: Pick<Player, 'at'>,
  route: Route,
  ballX: number,
  length: Length,
): string {
  const points = routePoints(player, route);
  const end = points.at(-1) ?? player.at;
  const breaksAt = breakPoint(player, route);
  const depth = breakDepth(player, route);
  const stops = settles(route);
  const turn = turnAt(points, route.stem.length);
  if (turn === null || goesOn(points, route.stem.length, turn)) {
    if (stops) return `sits down ${at(end[1], length)}`;
    const straight = isStraight(points) ? 'straight ' : '';
    const way = wayOf(player.at, end, insideSign(end[0], ballX), nearlyUpfield.break);
    return `runs ${way === 'upfield' ? `${straight}upfield` : way}, drawn ${to(end[1], length)}`;
  }
  const bends = turn < leastBreak;
  const near = nearlyUpfield[bends ? 'bend' : 'break'];
  const way = wayOf(breaksAt, end, insideSign(breaksAt[0], ballX), near);
  const turns = way === 'upfield' || way === 'back';
  const verb =
    bends || (!turns && route.shape === 'rounded') ? 'bends' : turns ? 'turns' : 'breaks';
  const back = depth - end[1] >= leastBack;
  const then = stops ? (back ? ` and comes back ${to(end[1], length)}` : ' and sits down') : '';
  return `${verb} ${way} ${at(depth, length)}${then}`;
}

/** The way from one spot to another, for a man for whom `inside` leads toward the ball. */
function wayOf(
  from: Point,
  to: Point,
  inside: 1 | -1,
  near: number,
): 'upfield' | 'back' | 'in' | 'out' {
  const [across, up] = subtract(to, from);
  const off = degrees(Math.atan2(Math.abs(across), Math.abs(up)));
  if (off < near) return up >= 0 ? 'upfield' : 'back';
  return across * inside > 0 ? 'in' : 'out';
}

/** By how much he turns at the end of his stem, degrees; null where nothing follows it. */
function turnAt(points: readonly Point[], stem: number): number | null {
  const [before, corner, after] = [points[stem - 1], points[stem], points[stem + 1]];
  return before && corner && after
    ? angle(subtract(corner, before), subtract(after, corner))
    : null;
}

/** Whether what follows the stem leaves its way by less than can be seen. */
function goesOn(points: readonly Point[], stem: number, turn: number): boolean {
  const [before, corner, end] = [points[stem - 1], points[stem], points.at(-1)];
  if (!before || !corner || !end || turn >= leastBreak) return false;
  const [x, y] = subtract(corner, before);
  const [dx, dy] = subtract(end, corner);
  return Math.abs(x * dy - y * dx) < straightOn * Math.sqrt(x * x + y * y);
}

function isStraight(points: readonly Point[]): boolean {
  const [first, ...rest] = points;
  const end = rest.at(-1);
  if (!first || !end) return true;
  const whole = subtract(end, first);
  return rest.every((point, i) => {
    const leg = subtract(point, rest[i - 1] ?? first);
    return (leg[0] === 0 && leg[1] === 0) || angle(leg, whole) < leastBreak;
  });
}

const angle = (a: Point, b: Point): number =>
  degrees(Math.abs(Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])));
