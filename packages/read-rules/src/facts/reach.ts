import { halfWidth } from '@stemline/football/field';
import { nearestLine } from '@stemline/football/looks/separate';
import { insideSign } from '@stemline/football/route';
import { clamp, measured } from '../measured.ts';
import { balancedWithin, insideTackles } from './look-facts.ts';
import { levelWithHim } from './room-facts.ts';
import type { Setting } from './sighting.ts';

/** Least and greatest value of a fact; `asked`: a card tells its values apart, else any of them will do. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly asked: boolean;
}

/** Of a fact with two sides: which of them may be. */
export interface Either {
  readonly yes: boolean;
  readonly no: boolean;
  readonly asked: boolean;
}

/** What is asked of the men near the runner, all at once. */
export interface Picture {
  readonly keyOffset: Span;
  readonly keyDepth: Span;
  readonly cushion: Span;
  readonly roomInside: Span;
  readonly roomOutside: Span;
  readonly rushers: Span;
  /** By what the key does and whether he rushes, together. */
  readonly keyRushes: Either;
  readonly manOutside: Either;
  /** Whether a middle linebacker may be balanced, and whether there may be one. */
  readonly mike: { readonly balanced: boolean; readonly there: boolean; readonly asked: boolean };
}

/** A man of whom only this is known: where he may stand and how far he can come by the decision. */
interface Man {
  /** His gap to the runner's spot at the decision, from where he stands; + inside. */
  readonly gap: Span;
  readonly depth: Span;
  readonly run: number;
}

/**
 * Facts are measured to a millionth of a yard; where men stand is set to hundredths, where they have
 * come to is not. Less than a step, so that an open bound stays open.
 */
const rounding = 6e-7;

/**
 * What hangs together because one man can be in one place: the key's room and cushion at the decision
 * follow from where he stood and how far he can run by then.
 */
export interface Reach {
  /** False: no key, and no man on the other side, could show anything of this. */
  readonly canShow: (picture: Picture) => boolean;
  /** True: whatever one picks of it can be shown. False says nothing. */
  readonly canShowAll: (picture: Picture) => boolean;
}

/** What a reach is asked for. */
export interface About {
  /** The card is about a key, so there is one. */
  readonly needsKey: boolean;
  /** Wherever on the field the play is run: the sideline bounds nothing. */
  readonly anySpot: boolean;
}

export function reachOf(setting: Setting, { needsKey, anySpot }: About): Reach {
  const { play, card, start, runner, ball, decision, run } = setting;
  const { levels, direction } = card.head.key;
  const keyRuns = Math.max(...levels.map((level) => run[level]));
  const anyRuns = Math.max(...Object.values(run));
  // Offsets count toward the ball from the start, gaps toward the ball from the runner: each linear in x.
  const startSign = insideSign(start.at[0], ball);
  const runnerSign = insideSign(runner.at[0], ball);
  const across = ({ from, to, asked }: Span, of: (offset: number) => number): Span => ({
    from: Math.min(of(from), of(to)),
    to: Math.max(of(from), of(to)),
    asked,
  });
  const xOf = (offset: number): number => start.at[0] + startSign * offset;
  const gapOf = (offset: number): number => runnerSign * (xOf(offset) - decision.at[0]);
  const level = decision.at[1];
  /** Where a defender can stand: on the field, on his side of the ball. */
  const half = anySpot ? 2 * halfWidth : halfWidth;
  const widths = [-half, half].map((x) => startSign * (x - start.at[0]));
  const field = { from: Math.min(...widths) - rounding, to: Math.max(...widths) + rounding };
  const deep = { from: nearestLine - rounding, to: play.situation.toGoal + 10 + rounding };
  const sideline = half + runnerSign * decision.at[0] + rounding;

  /** Null where he would stand off the field. */
  function key({ keyOffset, keyDepth }: Picture): Man | null {
    const offset = within(keyOffset, field);
    const depth = within(keyDepth, deep);
    return offset && depth && { gap: across(offset, gapOf), depth, run: keyRuns };
  }
  const sideMan = (): Man => {
    const { width, depth } = card.head.sideMan;
    const offset = direction === 'inside' ? { from: -width, to: 0 } : { from: 0, to: width };
    return {
      gap: across({ ...offset, asked: false }, gapOf),
      depth: { from: nearestLine, to: depth, asked: false },
      run: anyRuns,
    };
  };

  /** He rushes: he gains no depth, and takes no room. */
  const canRush = ({ depth }: Man, cushion: Span): boolean =>
    cushion.from + level <= depth.to + rounding &&
    cushion.to + level >= depth.from - keyRuns - rounding;
  const canAlwaysRush = ({ depth }: Man, cushion: Span): boolean =>
    least(depth) >= greatest(cushion) + level &&
    greatest(depth) - keyRuns <= least(cushion) + level;

  /** He does anything else: level with the runner he takes room, inside or outside of him. */
  function canStay(man: Man, picture: Picture, cushion: Span): boolean {
    const isReached = (from: number, to: number): boolean =>
      from <= to && apart(man.depth, { from: from + level, to: to + level }) <= man.run + rounding;
    const { from, to } = cushion;
    if (isReached(from, Math.min(to, -levelWithHim - step))) return true;
    if (isReached(Math.max(from, levelWithHim + step), to)) return true;
    const near = { from: Math.max(from, -levelWithHim), to: Math.min(to, levelWithHim) };
    if (!isReached(near.from, near.to)) return false;
    const deep = apart(man.depth, { from: near.from + level, to: near.to + level });
    const wide = side(man.run + rounding, deep) + rounding;
    return (
      man.gap.to + wide >= picture.roomInside.from ||
      man.gap.from - wide <= -picture.roomOutside.from
    );
  }
  function canAlwaysStay(man: Man, picture: Picture, cushion: Span): boolean {
    const there = { ...cushion, from: cushion.from + level, to: cushion.to + level };
    const deep = furthest(man.depth, there);
    if (deep > man.run) return false;
    const wide = side(man.run, deep);
    const { gap } = man;
    return (
      least(gap) + wide >= greatest(picture.roomInside) ||
      greatest(gap) - wide <= -greatest(picture.roomOutside)
    );
  }

  /** Where the scan looks at the second level alone, the key himself may be the man nearest the ball. */
  const scansSecondAlone = levels.every((one) => one === 'second');
  function fromBall({ keyOffset }: Picture): { readonly least: number; readonly most: number } {
    const x = across(keyOffset, (offset) => xOf(offset) - ball);
    const ends = [Math.abs(x.from), Math.abs(x.to)];
    return { least: x.from <= 0 && x.to >= 0 ? 0 : Math.min(...ends), most: Math.max(...ends) };
  }
  function canLean(picture: Picture): boolean {
    if (!scansSecondAlone || !picture.mike.asked) return true;
    const { most } = fromBall(picture);
    if (most <= balancedWithin - rounding) return picture.mike.balanced;
    return most > insideTackles - rounding || picture.mike.there;
  }
  const canAlwaysLean = (picture: Picture): boolean =>
    !scansSecondAlone || !picture.mike.asked || fromBall(picture).least > insideTackles + rounding;

  /** The man on the other side takes room like anybody, unless he is one of the rushers. */
  const mustSideManStay = ({ manOutside, rushers, keyRushes }: Picture): boolean =>
    !manOutside.no && rushers.to - (keyRushes.no ? 0 : 1) < 1;
  const anywhere: Span = { from: -1000, to: 1000, asked: false };

  // Where nobody rushes the key stays, and where everybody does he comes, asked about or not.
  const showsKey = (picture: Picture): boolean => {
    const { keyRushes, rushers, cushion } = picture;
    const man = key(picture);
    return (
      !!man &&
      ((keyRushes.yes && rushers.to >= 1 && canRush(man, cushion)) ||
        (keyRushes.no && rushers.from < everybody && canStay(man, picture, cushion))) &&
      canLean(picture)
    );
  };
  function alwaysShowsKey(picture: Picture): boolean {
    const { keyRushes, rushers, keyOffset, keyDepth, cushion } = picture;
    const man = key(picture);
    if (!man || !isWithin(keyOffset, field) || !isWithin(keyDepth, deep)) return false;
    const rush = keyRushes.yes && canAlwaysRush(man, cushion);
    const stay = keyRushes.no && canAlwaysStay(man, picture, cushion);
    const always = keyRushes.asked
      ? (rush || !keyRushes.yes) && (stay || !keyRushes.no)
      : (rush || stay) &&
        (rush || !rushers.asked || rushers.to < everybody) &&
        (stay || !rushers.asked || rushers.from >= 1);
    return always && canAlwaysLean(picture);
  }

  return {
    canShow: (picture) =>
      picture.roomOutside.from <= sideline &&
      (!needsKey || showsKey(picture)) &&
      (!mustSideManStay(picture) || canStay(sideMan(), picture, anywhere)),
    canShowAll: (picture) =>
      greatest(picture.roomOutside) <= sideline &&
      (!needsKey || alwaysShowsKey(picture)) &&
      (!picture.manOutside.yes || picture.rushers.from >= 2 || !picture.rushers.asked),
  };
}

/** As many rushers as there are defenders. */
const everybody = 11;
/** A millionth of a yard past a bound: the next value there is. */
export const step = 1e-6;

/** Worst that can be asked for, or best of what one is free to choose, as the bound of a reach from below. */
const least = ({ from, to, asked }: Span): number => (asked ? from : to);
const greatest = ({ from, to, asked }: Span): number => (asked ? to : from);

type Limits = { readonly from: number; readonly to: number };

/** What of a span lies within limits; null for nothing. */
function within({ from, to, asked }: Span, limits: Limits): Span | null {
  const span = { from: Math.max(from, limits.from), to: Math.min(to, limits.to), asked };
  return span.from <= span.to ? span : null;
}

/** What is free to choose lies within as soon as any of it does. */
const isWithin = ({ from, to, asked }: Span, limits: Limits): boolean =>
  !asked || (from >= limits.from && to <= limits.to);

/** Between two ranges, at the nearest. */
const apart = (a: Limits, b: Limits): number => Math.max(0, a.from - b.to, b.from - a.to);

/** Between the worst picks of what is asked, answered by the best of what is free. */
function furthest(a: Span, b: Span): number {
  if (a.asked && b.asked) return Math.max(a.to - b.from, b.to - a.from);
  if (!a.asked && !b.asked) return apart(a, b);
  const [asked, free] = a.asked ? [a, b] : [b, a];
  const at = (n: number): number => Math.max(0, free.from - n, n - free.to);
  return Math.max(at(asked.from), at(asked.to));
}

/** The other side of a right triangle. */
const side = (longest: number, other: number): number =>
  Math.sqrt(Math.max(0, measured(longest) ** 2 - clamp(other, 0, longest) ** 2));
