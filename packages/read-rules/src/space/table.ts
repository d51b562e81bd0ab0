import { type Ask, type Axis, bitsOf, type Column, cellsOfRange, columnOf } from './column.ts';

/**
 * A box of cells, one pair of numbers per column: first and last cell of an ordered column; the bits
 * of a set column and an unused 0.
 */
export type Box = Int32Array;

/** A row of a table as the prover sees it: what it asks, by column. No asks: it fits everywhere. */
export type AskedRow = readonly { readonly column: number; readonly ask: Ask }[];

export interface Table {
  readonly columns: readonly Column[];
  /** The whole space. */
  readonly all: Box;
  /** One box per row, in order; null for a row that can never fit. */
  readonly rows: readonly (Box | null)[];
}

/** Lays rows over the space of the axes. Every row is one box, because it asks of each axis apart. */
export function tableOf(axes: readonly Axis[], rows: readonly AskedRow[]): Table {
  const asks: Ask[][] = axes.map(() => []);
  for (const row of rows) for (const { column, ask } of row) asks[column]?.push(ask);
  const columns = axes.map((axis, c) => columnOf(axis, asks[c] ?? []));
  const all = new Int32Array(columns.length * 2);
  columns.forEach((column, c) => {
    if (column.kind === 'set') all[2 * c] = column.full;
    else all[2 * c + 1] = column.last;
  });
  return { columns, all, rows: rows.map((row) => boxOf(columns, all, row)) };
}

function boxOf(columns: readonly Column[], all: Box, row: AskedRow): Box | null {
  const box = all.slice();
  for (const { column: c, ask } of row) {
    const column = columns[c];
    if (!column) return null;
    if (column.kind === 'set') {
      if (ask.kind !== 'among') return null;
      box[2 * c] = at(box, 2 * c) & bitsOf(column, ask.values);
      if (box[2 * c] === 0) return null;
    } else {
      const cells = ask.kind === 'range' ? cellsOfRange(column, ask.from, ask.to) : null;
      if (!cells) return null;
      box[2 * c] = Math.max(at(box, 2 * c), cells[0]);
      box[2 * c + 1] = Math.min(at(box, 2 * c + 1), cells[1]);
      if (at(box, 2 * c) > at(box, 2 * c + 1)) return null;
    }
  }
  return box;
}

/** Element of a typed array known to be in range. */
export const at = (numbers: Int32Array, i: number): number => numbers[i] as number;

export const isSet = (table: Table, column: number): boolean =>
  table.columns[column]?.kind === 'set';

/** What two boxes share; null for nothing. */
export function meet(table: Table, a: Box, b: Box): Box | null {
  const box = a.slice();
  for (let c = 0; c < table.columns.length; c++) {
    const lo = 2 * c;
    if (isSet(table, c)) {
      box[lo] = at(a, lo) & at(b, lo);
      if (box[lo] === 0) return null;
    } else {
      box[lo] = Math.max(at(a, lo), at(b, lo));
      box[lo + 1] = Math.min(at(a, lo + 1), at(b, lo + 1));
      if (at(box, lo) > at(box, lo + 1)) return null;
    }
  }
  return box;
}

export type Relation = 'apart' | 'covers' | 'crosses';

/** How a row lies to a box: apart from it, over the whole of it, or across its border. */
export function relation(sets: readonly boolean[], row: Box, box: Box): Relation {
  let covers = true;
  for (let c = 0; c < sets.length; c++) {
    const lo = 2 * c;
    if (sets[c]) {
      const common = at(row, lo) & at(box, lo);
      if (common === 0) return 'apart';
      if (common !== at(box, lo)) covers = false;
    } else {
      if (at(row, lo) > at(box, lo + 1) || at(row, lo + 1) < at(box, lo)) return 'apart';
      if (at(row, lo) > at(box, lo) || at(row, lo + 1) < at(box, lo + 1)) covers = false;
    }
  }
  return covers ? 'covers' : 'crosses';
}

export const setColumns = (table: Table): readonly boolean[] =>
  table.columns.map((column) => column.kind === 'set');

/** Same cells: the boxes hold the same numbers. */
export const sameBox = (a: Box, b: Box): boolean =>
  a.length === b.length && a.every((n, i) => n === b[i]);
