import type { Bound } from '../card.ts';

/** The values one fact may take. A `whole` domain holds the whole numbers from min to max only. */
export type Domain =
  | {
      readonly kind: 'continuous';
      readonly min: number;
      readonly max: number;
      readonly whole: boolean;
    }
  | { readonly kind: 'boolean' }
  | { readonly kind: 'enumerated'; readonly values: readonly string[] };

/** One axis of the space that rows divide. */
export interface Axis {
  readonly name: string;
  readonly domain: Domain;
}

export type Value = number | boolean | string;

/** What one row asks on one axis. */
export type Ask =
  | { readonly kind: 'range'; readonly from: Bound | null; readonly to: Bound | null }
  | { readonly kind: 'among'; readonly values: readonly (boolean | string)[] };

/**
 * An axis cut into the fewest cells that no row can tell apart inside.
 *
 * Ordered, continuous: every bound is a cell of its own, and so is every open stretch between two
 * neighbours; cell 2i is the point `points[i]`, cell 2i+1 the stretch after it. Ordered, whole: one
 * cell per number. Set: one bit per value.
 */
export type Column =
  | {
      readonly kind: 'stretches';
      readonly name: string;
      readonly points: readonly number[];
      readonly last: number;
    }
  | { readonly kind: 'wholes'; readonly name: string; readonly min: number; readonly last: number }
  | {
      readonly kind: 'set';
      readonly name: string;
      readonly values: readonly (boolean | string)[];
      readonly full: number;
    };

/** Sets are kept in the bits of one 32-bit number, the sign bit left alone. */
export const MOST_VALUES = 30;

/** Cuts an axis at every bound that any row mentions on it. */
export function columnOf(axis: Axis, asks: Iterable<Ask>): Column {
  const { domain, name } = axis;
  if (domain.kind === 'boolean') return { kind: 'set', name, values: [false, true], full: 0b11 };
  if (domain.kind === 'enumerated') {
    const values = domain.values.slice(0, MOST_VALUES);
    return { kind: 'set', name, values, full: 2 ** values.length - 1 };
  }
  if (domain.whole) return { kind: 'wholes', name, min: domain.min, last: domain.max - domain.min };
  const points = new Set([domain.min, domain.max]);
  for (const ask of asks) {
    if (ask.kind !== 'range') continue;
    for (const bound of [ask.from, ask.to]) {
      if (bound && bound.at > domain.min && bound.at < domain.max) points.add(bound.at);
    }
  }
  const sorted = [...points].sort((a, b) => a - b);
  return { kind: 'stretches', name, points: sorted, last: 2 * (sorted.length - 1) };
}

/** First and last cell of a range; null when it holds none. Set columns never get here. */
export function cellsOfRange(
  column: Exclude<Column, { kind: 'set' }>,
  from: Bound | null,
  to: Bound | null,
): readonly [number, number] | null {
  const [lo, hi] =
    column.kind === 'wholes'
      ? [from ? wholeFrom(from) - column.min : 0, to ? wholeTo(to) - column.min : column.last]
      : [
          from ? stretchFrom(column.points, from) : 0,
          to ? stretchTo(column.points, to) : column.last,
        ];
  const first = Math.max(0, lo);
  const last = Math.min(column.last, hi);
  return first <= last ? [first, last] : null;
}

const wholeFrom = ({ at, closed }: Bound): number => (closed ? Math.ceil(at) : Math.floor(at) + 1);
const wholeTo = ({ at, closed }: Bound): number => (closed ? Math.floor(at) : Math.ceil(at) - 1);

function stretchFrom(points: readonly number[], { at, closed }: Bound): number {
  const i = firstAtLeast(points, at);
  return points[i] === at && !closed ? 2 * i + 1 : 2 * i;
}

function stretchTo(points: readonly number[], { at, closed }: Bound): number {
  const i = firstAtLeast(points, at);
  if (points[i] !== at) return 2 * i - 2;
  return closed ? 2 * i : 2 * i - 1;
}

function firstAtLeast(points: readonly number[], at: number): number {
  let lo = 0;
  let hi = points.length;
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if ((points[mid] as number) < at) lo = mid + 1;
    else hi = mid;
  }
  return lo;
}

/** The bits of the values asked for; values that the column does not hold count for nothing. */
export function bitsOf(
  column: Extract<Column, { kind: 'set' }>,
  values: readonly (boolean | string)[],
): number {
  let bits = 0;
  for (const value of values) {
    const i = column.values.indexOf(value);
    if (i >= 0) bits |= 1 << i;
  }
  return bits;
}
