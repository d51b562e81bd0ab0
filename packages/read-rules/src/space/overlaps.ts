import { bestCut, part, reaching } from './cut.ts';
import type { Effort } from './effort.ts';
import { type Box, setColumns, type Table } from './table.ts';

/**
 * The maximal sets of two or more of `rows` that all fit in one cell, cells of the `barred` rows left
 * out. Found on cells, never from pairs: in a column of value sets, three rows may meet pair by pair
 * and still have no cell in common.
 */
export function overlaps(
  table: Table,
  rows: readonly number[],
  barred: readonly number[],
  effort: Effort,
): number[][] {
  const sets = setColumns(table);
  const bars = new Set(barred);
  const found: Set<number>[] = [];
  const isKnown = (fit: readonly number[]): boolean =>
    found.some((known) => fit.every((row) => known.has(row)));
  const alive = (all: readonly number[]) => all.filter((row) => table.rows[row]);
  const open: { box: Box; rows: Int32Array; bars: Int32Array }[] = [
    { box: table.all, rows: Int32Array.from(alive(rows)), bars: Int32Array.from(alive([...bars])) },
  ];
  for (let next = open.pop(); next; next = open.pop()) {
    if (!effort.spend(1 + next.rows.length + next.bars.length + found.length)) break;
    const shut = reaching(sets, table.rows, next.box, next.bars);
    if (shut.covering.length > 0) continue;
    const reach = reaching(sets, table.rows, next.box, next.rows);
    if (reach.rows.length < 2 || isKnown([...reach.rows])) continue;
    const cut = bestCut(
      sets,
      table.rows,
      next.box,
      Int32Array.from([...reach.crossing, ...shut.crossing]),
    );
    if (!cut) {
      found.push(new Set(reach.rows));
      continue;
    }
    const [before, after] = part(sets, next.box, cut);
    open.push(
      { box: after, rows: reach.rows, bars: shut.rows },
      { box: before, rows: reach.rows, bars: shut.rows },
    );
  }
  return maximal(found).sort((a, b) => compare(a, b));
}

function maximal(found: readonly Set<number>[]): number[][] {
  const largestFirst = [...found].sort((a, b) => b.size - a.size);
  const kept: Set<number>[] = [];
  for (const set of largestFirst) {
    if (!kept.some((other) => [...set].every((row) => other.has(row)))) kept.push(set);
  }
  return kept.map((set) => [...set].sort((a, b) => a - b));
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const difference = (a[i] as number) - (b[i] as number);
    if (difference !== 0) return difference;
  }
  return a.length - b.length;
}
