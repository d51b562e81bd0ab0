import { bestCut, part, reaching } from './cut.ts';
import type { Effort } from './effort.ts';
import { type Box, setColumns, type Table } from './table.ts';

/**
 * The cells of `box` that none of the `rows` covers, as boxes apart from each other in no particular
 * order; `merge.ts` gives them their one form. Stops early after `most` boxes. Boxes that do not
 * `count` are passed over.
 */
export function uncovered(
  table: Table,
  box: Box,
  rows: readonly number[],
  effort: Effort,
  most: number = Number.POSITIVE_INFINITY,
  counts: (hole: Box) => boolean = () => true,
): Box[] {
  const sets = setColumns(table);
  const holes: Box[] = [];
  const open: { box: Box; rows: Int32Array }[] = [
    { box, rows: Int32Array.from(rows.filter((row) => table.rows[row])) },
  ];
  while (holes.length < most) {
    const next = open.pop();
    if (!next || !effort.spend(1 + next.rows.length)) break;
    const reach = reaching(sets, table.rows, next.box, next.rows);
    if (reach.covering.length > 0) continue;
    const cut = bestCut(sets, table.rows, next.box, reach.rows);
    if (!cut) {
      if (counts(next.box)) holes.push(next.box);
      continue;
    }
    const [before, after] = part(sets, next.box, cut);
    open.push({ box: after, rows: reach.rows }, { box: before, rows: reach.rows });
  }
  return holes;
}
