import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Ask, Axis, Value } from './column.ts';
import { Effort } from './effort.ts';
import { merge } from './merge.ts';
import { overlaps } from './overlaps.ts';
import { cellValues, holds, type Region, regionOf, regionText } from './region.ts';
import {
  type AskedRow,
  type Box,
  meet,
  relation,
  setColumns,
  type Table,
  tableOf,
} from './table.ts';
import { uncovered } from './uncovered.ts';

const everyRow = (table: Table): number[] => table.rows.map((_, i) => i);

const holesOf = (table: Table): Region[] =>
  merge(table, uncovered(table, table.all, everyRow(table), new Effort(1e6))).map((box) =>
    regionOf(table, box),
  );

/** The brute force: does a row fit these values, asked from its own words and nothing else. */
function fits(row: AskedRow, values: readonly Value[]): boolean {
  return row.every(({ column, ask }) => {
    const value = values[column] as Value;
    if (ask.kind === 'among') return typeof value !== 'number' && ask.values.includes(value);
    if (typeof value !== 'number') return false;
    const { from, to } = ask;
    return (
      (!from || value > from.at || (from.closed && value === from.at)) &&
      (!to || value < to.at || (to.closed && value === to.at))
    );
  });
}

function everyCell(table: Table): Value[][] {
  return table.columns.reduce<Value[][]>(
    (cells, column) => cells.flatMap((cell) => cellValues(column).map((value) => [...cell, value])),
    [[]],
  );
}

const axis: fc.Arbitrary<Axis> = fc.oneof(
  fc.record({
    name: fc.constant('n'),
    domain: fc.record({
      kind: fc.constant('continuous' as const),
      min: fc.constant(0),
      max: fc.integer({ min: 1, max: 6 }),
      whole: fc.boolean(),
    }),
  }),
  fc.record({
    name: fc.constant('b'),
    domain: fc.record({ kind: fc.constant('boolean' as const) }),
  }),
  fc.record({
    name: fc.constant('e'),
    domain: fc.record({
      kind: fc.constant('enumerated' as const),
      values: fc.constantFrom(['x', 'y'], ['x', 'y', 'z'], ['x', 'y', 'z', 'w']),
    }),
  }),
);

const bound = fc.option(fc.record({ at: fc.integer({ min: -1, max: 7 }), closed: fc.boolean() }));
const askOn = ({ domain }: Axis): fc.Arbitrary<Ask> => {
  if (domain.kind === 'continuous')
    return fc.record({ kind: fc.constant('range' as const), from: bound, to: bound });
  const values: readonly (boolean | string)[] =
    domain.kind === 'boolean' ? [false, true] : domain.values;
  return fc.record({
    kind: fc.constant('among' as const),
    values: fc.subarray([...values], { minLength: 1 }),
  });
};

const problem = fc.array(axis, { minLength: 1, maxLength: 4 }).chain((axes) =>
  fc.record({
    axes: fc.constant(axes),
    rows: fc.array(
      fc
        .tuple(...axes.map((on) => fc.option(askOn(on))))
        .map((asks): AskedRow => asks.flatMap((ask, column) => (ask ? [{ column, ask }] : []))),
      { maxLength: 7 },
    ),
  }),
);

const inside = (region: Region, cell: readonly Value[]): boolean =>
  region.every((side, c) => holds(side, cell[c]));

/** Two boxes that differ in one column, and are next to each other there, should have been one. */
function expectNoneJoinable(table: Table, boxes: readonly Box[]): void {
  for (const [i, a] of boxes.entries()) {
    for (const b of boxes.slice(i + 1)) {
      const differs = table.columns.flatMap((_, c) =>
        a[2 * c] === b[2 * c] && a[2 * c + 1] === b[2 * c + 1] ? [] : [c],
      );
      expect(differs.length).toBeGreaterThan(0);
      const c = differs[0] as number;
      if (differs.length > 1) continue;
      expect(table.columns[c]?.kind).not.toBe('set');
      const [lo, hi] = (a[2 * c] as number) < (b[2 * c] as number) ? [a, b] : [b, a];
      expect(hi[2 * c]).toBeGreaterThan((lo[2 * c + 1] as number) + 1);
    }
  }
}

describe('holes', () => {
  it('are exactly the cells that no row fits, each told once', () => {
    fc.assert(
      fc.property(problem, ({ axes, rows }) => {
        const table = tableOf(axes, rows);
        const holes = holesOf(table);
        for (const cell of everyCell(table)) {
          const told = holes.filter((hole) => inside(hole, cell)).length;
          expect(told).toBe(rows.some((row) => fits(row, cell)) ? 0 : 1);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('have one form, whatever the order of the rows, and no two of them could be one', () => {
    fc.assert(
      fc.property(problem, ({ axes, rows }) => {
        const table = tableOf(axes, rows);
        const boxes = merge(table, uncovered(table, table.all, everyRow(table), new Effort(1e6)));
        const reversed = holesOf(tableOf(axes, [...rows].reverse()));
        expect(boxes.map((box) => regionText(regionOf(table, box)))).toEqual(
          reversed.map(regionText),
        );
        expectNoneJoinable(table, boxes);
      }),
      { numRuns: 400 },
    );
  });

  it('past the bound of their form are the same cells still, and no two of them could be one', () => {
    fc.assert(
      fc.property(problem, ({ axes, rows }) => {
        const table = tableOf(axes, rows);
        const found = uncovered(table, table.all, everyRow(table), new Effort(1e6));
        const joined = merge(table, found, 0);
        expect(joined.length).toBeLessThanOrEqual(found.length);
        expectNoneJoinable(table, joined);
        const holes = joined.map((box) => regionOf(table, box));
        for (const cell of everyCell(table)) {
          const told = holes.filter((hole) => inside(hole, cell)).length;
          expect(told).toBe(rows.some((row) => fits(row, cell)) ? 0 : 1);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('says that it ran out rather than running on', () => {
    const axes: Axis[] = Array.from({ length: 6 }, (_, i) => ({
      name: `n${i}`,
      domain: { kind: 'continuous', min: 0, max: 20, whole: true },
    }));
    const rows: AskedRow[] = Array.from({ length: 60 }, (_, i) =>
      axes.map((_, column) => ({
        column,
        ask: {
          kind: 'range',
          from: { at: (i * 7 + column * 5) % 17, closed: true },
          to: { at: ((i * 7 + column * 5) % 17) + 3, closed: true },
        },
      })),
    );
    const table = tableOf(axes, rows);
    const effort = new Effort(50);
    uncovered(table, table.all, everyRow(table), effort);
    expect(effort.isSpent).toBe(true);
  });
});

describe('overlaps', () => {
  it('are the maximal sets of rows with a cell in common, barred cells left out', () => {
    fc.assert(
      fc.property(problem, fc.nat({ max: 2 }), ({ axes, rows }, bars) => {
        const table = tableOf(axes, rows);
        const barred = everyRow(table).slice(0, bars);
        const real = everyRow(table).slice(bars);
        const sets = everyCell(table)
          .filter((cell) => !barred.some((row) => fits(rows[row] as AskedRow, cell)))
          .map((cell) => real.filter((row) => fits(rows[row] as AskedRow, cell)))
          .filter((set) => set.length > 1);
        const maximal = sets.filter(
          (set) =>
            !sets.some(
              (other) => other.length > set.length && set.every((row) => other.includes(row)),
            ),
        );
        const expected = [...new Set(maximal.map((set) => set.join()))].sort();
        expect(
          overlaps(table, real, barred, new Effort(1e6))
            .map((set) => set.join())
            .sort(),
        ).toEqual(expected);
      }),
      { numRuns: 400 },
    );
  });
});

describe('boxes', () => {
  it('meet exactly where both rows fit', () => {
    fc.assert(
      fc.property(
        problem.filter(({ rows }) => rows.length >= 2),
        ({ axes, rows }) => {
          const table = tableOf(axes, rows);
          const [a, b] = table.rows;
          const both = a && b ? meet(table, a, b) : null;
          const any = everyCell(table).some(
            (cell) => fits(rows[0] as AskedRow, cell) && fits(rows[1] as AskedRow, cell),
          );
          expect(both !== null).toBe(any);
          if (a && b) expect(relation(setColumns(table), a, b) === 'apart').toBe(!any);
        },
      ),
    );
  });
});
