import type { Bound } from '../card.ts';
import type { Column, Value } from './column.ts';
import { at, type Box, type Table } from './table.ts';

/** One side of a region: an interval or a set of values. `whole` says that it is all there is. */
export type Side = IntervalSide | ValuesSide;

export interface IntervalSide {
  readonly kind: 'interval';
  readonly name: string;
  readonly from: Bound;
  readonly to: Bound;
  /** It begins where the axis begins; it ends where the axis ends. */
  readonly atStart: boolean;
  readonly atEnd: boolean;
  readonly whole: boolean;
}

export interface ValuesSide {
  readonly kind: 'values';
  readonly name: string;
  readonly values: readonly (boolean | string)[];
  readonly whole: boolean;
}

/** A box of the space in the axes' own values, one side per axis in their order. */
export type Region = readonly Side[];

export function regionOf(table: Table, box: Box): Region {
  return table.columns.map((column, c): Side => {
    const lo = at(box, 2 * c);
    const hi = at(box, 2 * c + 1);
    if (column.kind === 'set') {
      const values = column.values.filter((_, i) => (lo & (1 << i)) !== 0);
      return { kind: 'values', name: column.name, values, whole: lo === column.full };
    }
    const [from, to] =
      column.kind === 'wholes'
        ? [
            { at: column.min + lo, closed: true },
            { at: column.min + hi, closed: true },
          ]
        : [startOf(column.points, lo), endOf(column.points, hi)];
    const ends = { atStart: lo === 0, atEnd: hi === column.last };
    return {
      kind: 'interval',
      name: column.name,
      from,
      to,
      ...ends,
      whole: ends.atStart && ends.atEnd,
    };
  });
}

const startOf = (points: readonly number[], cell: number): Bound => ({
  at: points[cell >> 1] as number,
  closed: cell % 2 === 0,
});
const endOf = (points: readonly number[], cell: number): Bound => ({
  at: points[(cell + 1) >> 1] as number,
  closed: cell % 2 === 0,
});

/** Whether a value lies in a side. */
export function holds(side: Side, value: Value | null | undefined): boolean {
  if (value === null || value === undefined) return false;
  if (side.kind === 'values') return typeof value !== 'number' && side.values.includes(value);
  if (typeof value !== 'number') return false;
  const { from, to } = side;
  return (
    (value > from.at || (from.closed && value === from.at)) &&
    (value < to.at || (to.closed && value === to.at))
  );
}

/** The value inside an interval nearest to `wish`; off an open end by a small step. */
export function nearestIn(side: IntervalSide, wish: number): number {
  if (holds(side, wish)) return wish;
  const { from, to } = side;
  const step = Math.min(0.25, (to.at - from.at) / 4);
  return wish <= from.at ? from.at + (from.closed ? 0 : step) : to.at - (to.closed ? 0 : step);
}

/** A value for every cell of a column, so that a test can try them all. */
export function cellValues(column: Column): Value[] {
  if (column.kind === 'set') return [...column.values];
  if (column.kind === 'wholes')
    return Array.from({ length: column.last + 1 }, (_, i) => column.min + i);
  return Array.from({ length: column.last + 1 }, (_, cell) => {
    const a = column.points[cell >> 1] as number;
    const b = column.points[(cell + 1) >> 1] as number;
    return (a + b) / 2;
  });
}

/** The same region has the same text on any machine; ids are made of it. */
export const regionText = (region: Region): string =>
  region
    .map((side) =>
      side.kind === 'values'
        ? `${side.name}:${side.values.join('|')}`
        : `${side.name}:${side.from.closed ? '[' : '('}${side.from.at},${side.to.at}${side.to.closed ? ']' : ')'}`,
    )
    .join(';');
