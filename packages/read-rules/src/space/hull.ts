import { part } from './cut.ts';
import type { Effort } from './effort.ts';
import { at, type Box, setColumns, type Table } from './table.ts';

/** What can be told of the cells of a box at once. */
export interface Can {
  /** All of its cells can be, or none; or it must be parted to tell. */
  readonly tell: (box: Box) => 'all' | 'none' | 'some';
  /** The columns that it hangs on; a box of one cell in each of them is not parted further. */
  readonly columns: readonly number[];
}

/** Whether any cell of the box can be. Where the work runs out: yes. */
export function hasCell(table: Table, box: Box, can: Can, effort: Effort): boolean {
  const sets = setColumns(table);
  const open: Box[] = [box];
  for (let next = open.pop(); next; next = open.pop()) {
    if (!effort.spend(1)) return true;
    const told = can.tell(next);
    if (told === 'none') continue;
    const halves = told === 'all' ? null : halve(sets, next, can.columns);
    if (!halves) return true;
    open.push(halves[1], halves[0]);
  }
  return false;
}

/**
 * The box drawn in to the least one around its cells that can be; null when none can. An end that is
 * the axis's own stays: nothing lies beyond it, and it needs no words. Where the work runs out, what
 * has not been looked at counts as cells that can.
 */
export function hull(table: Table, box: Box, can: Can, effort: Effort): Box | null {
  const sets = setColumns(table);
  const open: Box[] = [box];
  let around: Box | null = null;
  for (let next = open.pop(); next; next = open.pop()) {
    if (around && lies(sets, next, around)) continue;
    const told = effort.spend(1) ? can.tell(next) : 'all';
    if (told === 'none') continue;
    const halves = told === 'all' ? null : halve(sets, next, can.columns);
    if (halves) open.push(halves[1], halves[0]);
    else around = around ? join(sets, around, next) : next.slice();
  }
  return around && keepEnds(table, sets, box, around);
}

function keepEnds(table: Table, sets: readonly boolean[], box: Box, around: Box): Box {
  const kept = around.slice();
  for (let c = 0; c < sets.length; c++) {
    const lo = 2 * c;
    // The whole set, or from where the axis begins.
    if (at(box, lo) === at(table.all, lo)) kept[lo] = at(box, lo);
    if (!sets[c] && at(box, lo + 1) === at(table.all, lo + 1)) kept[lo + 1] = at(box, lo + 1);
  }
  return kept;
}

/** Parts a box in the middle of its column with the most cells; null when each has one. */
function halve(
  sets: readonly boolean[],
  box: Box,
  columns: readonly number[],
): readonly [Box, Box] | null {
  let widest = -1;
  let most = 1;
  for (const column of columns) {
    const cells = sets[column]
      ? bits(at(box, 2 * column))
      : at(box, 2 * column + 1) - at(box, 2 * column) + 1;
    if (cells > most) {
      most = cells;
      widest = column;
    }
  }
  if (widest < 0) return null;
  const lo = at(box, 2 * widest);
  const middle = sets[widest] ? lo & -lo : (lo + at(box, 2 * widest + 1) + 1) >> 1;
  return part(sets, box, { column: widest, at: middle });
}

function bits(mask: number): number {
  let count = 0;
  for (let left = mask; left; left &= left - 1) count++;
  return count;
}

function lies(sets: readonly boolean[], inner: Box, outer: Box): boolean {
  for (let c = 0; c < sets.length; c++) {
    const lo = 2 * c;
    if (
      sets[c]
        ? (at(inner, lo) & ~at(outer, lo)) !== 0
        : at(inner, lo) < at(outer, lo) || at(inner, lo + 1) > at(outer, lo + 1)
    )
      return false;
  }
  return true;
}

function join(sets: readonly boolean[], a: Box, b: Box): Box {
  const box = a.slice();
  for (let c = 0; c < sets.length; c++) {
    const lo = 2 * c;
    if (sets[c]) box[lo] = at(a, lo) | at(b, lo);
    else {
      box[lo] = Math.min(at(a, lo), at(b, lo));
      box[lo + 1] = Math.max(at(a, lo + 1), at(b, lo + 1));
    }
  }
  return box;
}
