import { at, type Box, type Table } from './table.ts';

/**
 * Boxes apart from each other → the same cells as boxes in their one form: column by column in
 * order, neighbours joined wherever everything to the right is equal. The result depends on the
 * cells alone, not on how they were found, and no two boxes of it could be joined into one.
 * (The join of adjacent areas in Calvanese et al., "Semantics and Analysis of DMN Decision Tables",
 * BPM 2016, made independent of the order of discovery.)
 */
export function merge(table: Table, boxes: readonly Box[]): Box[] {
  const joined = boxes.length > 1 ? mergeFrom(table, boxes, 0) : [...boxes];
  return joined.sort(byCells);
}

/** `boxes` differ in nothing left of `column`; what comes back is right from `column` on. */
function mergeFrom(table: Table, boxes: readonly Box[], column: number): Box[] {
  if (column === table.columns.length || boxes.length === 1) return boxes.slice(0, 1) as Box[];
  return table.columns[column]?.kind === 'set'
    ? mergeSet(table, boxes, column)
    : mergeOrdered(table, boxes, column);
}

function mergeOrdered(table: Table, boxes: readonly Box[], column: number): Box[] {
  const lo = 2 * column;
  const borders = new Set<number>();
  for (const box of boxes) borders.add(at(box, lo)).add(at(box, lo + 1) + 1);
  const sorted = [...borders].sort((a, b) => a - b);
  const done: Box[] = [];
  let growing = new Map<string, Box>();
  for (let i = 0; i + 1 < sorted.length; i++) {
    const first = sorted[i] as number;
    const last = (sorted[i + 1] as number) - 1;
    const here = boxes.filter((box) => at(box, lo) <= first && at(box, lo + 1) >= last);
    const next = new Map<string, Box>();
    for (const rest of here.length > 0 ? mergeFrom(table, here, column + 1) : []) {
      const key = tail(rest, column + 1);
      const open = growing.get(key);
      if (open) {
        open[lo + 1] = last;
        growing.delete(key);
        next.set(key, open);
      } else {
        const box = rest.slice();
        box[lo] = first;
        box[lo + 1] = last;
        next.set(key, box);
      }
    }
    done.push(...growing.values());
    growing = next;
  }
  done.push(...growing.values());
  return done;
}

function mergeSet(table: Table, boxes: readonly Box[], column: number): Box[] {
  const lo = 2 * column;
  const byTail = new Map<string, Box>();
  for (const bits of parts(boxes.map((box) => at(box, lo)))) {
    const here = boxes.filter((box) => (at(box, lo) & bits) !== 0);
    for (const rest of mergeFrom(table, here, column + 1)) {
      const key = tail(rest, column + 1);
      const open = byTail.get(key);
      if (open) open[lo] = at(open, lo) | bits;
      else {
        const box = rest.slice();
        box[lo] = bits;
        byTail.set(key, box);
      }
    }
  }
  return [...byTail.values()];
}

/** The coarsest parts of the values that no box tells apart, those in no box left out. */
function parts(masks: readonly number[]): number[] {
  let classes: number[] = [masks.reduce((all, mask) => all | mask, 0)];
  for (const mask of masks) {
    classes = classes.flatMap((bits) => [bits & mask, bits & ~mask].filter((half) => half !== 0));
  }
  return classes.sort((a, b) => a - b);
}

const tail = (box: Box, column: number): string => box.subarray(2 * column).join();

function byCells(a: Box, b: Box): number {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return at(a, i) - at(b, i);
  return 0;
}
