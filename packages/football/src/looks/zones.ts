import { halfWidth } from '../field.ts';
import type { Point } from '../geometry.ts';
import type { Move } from '../look.ts';
import { outSign, type Picture } from './picture.ts';
import type { Flank, Zone } from './recipe.ts';

interface ZoneRule {
  readonly says: string;
  /** Yards from the line at which the drop ends. */
  readonly depth: number;
  /** True where he is one of the deep men. */
  readonly deep: boolean;
  readonly move: Move;
  /** Across the field, in the picture's frame. */
  readonly x: (picture: Picture, flank: Flank) => number;
}

/** So many yards inside the sideline of the flank. */
const fromSideline =
  (yards: number) =>
  (_: Picture, flank: Flank): number =>
    outSign(flank) * (halfWidth - yards);

const numbersTop = (picture: Picture): number => halfWidth - picture.field.numbers.top;

/** Half-way from the hash to the top of the numbers: where curls are thrown. */
const curl = (picture: Picture, flank: Flank): number =>
  outSign(flank) * ((picture.field.hash + numbersTop(picture)) / 2);

/** The hash, but between 4 and 10 yards from the ball: hashes lie differently by rule code and spot. */
const hook = (picture: Picture, flank: Flank): number => {
  const out = outSign(flank);
  const fromBall = out * (out * Math.max(picture.field.hash, 6) - picture.ball);
  return picture.ball + out * Math.min(Math.max(fromBall, 4), 10);
};

const ballAndMiddle = (picture: Picture): number => picture.ball / 2;

/**
 * Where each zone lies. Depths and landmarks are common practice, no single source; the widths of
 * the deep zones divide the field (third 17.78 yd, half 26.67, quarter 13.33) and stand in their middle.
 */
export const zones: Readonly<Record<Zone, ZoneRule>> = {
  flat: { says: 'squats in the flat', depth: 5, deep: false, move: 'sit', x: fromSideline(6) },
  curlFlat: {
    says: 'drops to the curl, then the flat',
    depth: 9,
    deep: false,
    move: 'drop',
    x: curl,
  },
  hook: { says: 'drops to the hook', depth: 10, deep: false, move: 'drop', x: hook },
  middleHook: {
    says: 'drops to the middle hook',
    depth: 10,
    deep: false,
    move: 'drop',
    x: ({ ball }) => ball,
  },
  pole: {
    says: 'runs the deep middle from linebacker',
    depth: 17,
    deep: false,
    move: 'drop',
    x: ballAndMiddle,
  },
  robber: {
    says: 'robs the middle under the routes',
    depth: 8,
    deep: false,
    move: 'drop',
    x: ({ ball }) => ball,
  },
  third: {
    says: 'drops to the deep outside third',
    depth: 16,
    deep: true,
    move: 'drop',
    x: fromSideline(halfWidth / 3),
  },
  middleThird: {
    says: 'drops to the deep middle third',
    depth: 18,
    deep: true,
    move: 'drop',
    x: ballAndMiddle,
  },
  half: {
    says: 'drops to the deep half',
    depth: 16,
    deep: true,
    move: 'drop',
    x: fromSideline(halfWidth / 2),
  },
  quarter: {
    says: 'drops to the deep outside quarter',
    depth: 14,
    deep: true,
    move: 'drop',
    x: fromSideline(halfWidth / 4),
  },
  insideQuarter: {
    says: 'drops to the deep inside quarter',
    depth: 14,
    deep: true,
    move: 'drop',
    // Over the second receiver, whom he has going deep; in the middle of his quarter where there is none.
    x: (picture, flank) => picture.receivers[flank][1]?.at[0] ?? outSign(flank) * (halfWidth / 4),
  },
  poach: {
    says: 'looks across for the third receiver going deep',
    depth: 13,
    deep: true,
    move: 'drop',
    x: (picture) => picture.receivers.strong[2]?.at[0] ?? picture.ball,
  },
};

/** Nobody drops further outside the widest receiver of his side than this. Yards. */
const outsideWidest = 5;

/** Where a zone's man ends up: near his receivers, and inside the end line. */
export function zonePoint(zone: Zone, flank: Flank, picture: Picture): Point {
  const { depth, x } = zones[zone];
  const out = outSign(flank);
  const first = picture.receivers[flank][0];
  const wanted = out * x(picture, flank);
  const most = first ? out * first.at[0] + outsideWidest : wanted;
  return [out * Math.min(wanted, most), Math.min(depth, picture.toGoal + 9)];
}
