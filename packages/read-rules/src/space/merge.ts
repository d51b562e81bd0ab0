import { Effort } from './effort.ts';
import { at, type Box, setColumns, type Table } from './table.ts';

/** Steps after which a cluster of boxes is joined as it was found. Real cards need tens. */
const mostSteps = 2_000;

/**
 * Boxes apart from each other → the same cells as boxes in their one form: column by column in
 * order, neighbours joined wherever everything to the right is equal. The result depends on the
 * cells alone, not on how they were found, and no two boxes of it could be joined into one.
 * (The join of adjacent areas in Calvanese et al., "Semantics and Analysis of DMN Decision Tables",
 * BPM 2016, made independent of the order of discovery.)
 *
 * The form of a large cluster in many columns can take more boxes, and far more time, than it was
 * found in; past a bound the found boxes are joined pair by pair instead: the same cells, and still
 * no two that could be one.
 */
export function merge(table: Table, boxes: readonly Box[], steps: number = mostSteps): Box[] {
  return clusters(table, boxes)
    .flatMap((cluster) => {
      const effort = new Effort(steps);
      const formed = mergeFrom(table, cluster, 0, effort);
      return effort.isSpent ? joinPairs(table, cluster) : formed;
    })
    .sort(byCells);
}

/** Joins boxes that differ in one column only, until there are none. */
function joinPairs(table: Table, boxes: readonly Box[]): Box[] {
  let joined: Box[] = boxes.map((box) => box.slice());
  for (let isStill = false; !isStill; ) {
    const before = joined.length;
    for (let column = 0; column < table.columns.length; column++)
      joined = joinAlong(table, joined, column);
    isStill = joined.length === before;
  }
  return joined;
}

function joinAlong(table: Table, boxes: readonly Box[], column: number): Box[] {
  const lo = 2 * column;
  const alike = new Map<string, Box[]>();
  for (const box of boxes) {
    const others = box.map((n, i) => (i === lo || i === lo + 1 ? 0 : n)).join();
    const group = alike.get(others);
    if (group) group.push(box);
    else alike.set(others, [box]);
  }
  const isSet = table.columns[column]?.kind === 'set';
  return [...alike.values()].flatMap((group) =>
    isSet ? joinSets(group, lo) : joinRuns(group, lo),
  );
}

function joinSets(group: readonly Box[], lo: number): Box[] {
  const [first, ...others] = group;
  if (!first) return [];
  for (const other of others) first[lo] = at(first, lo) | at(other, lo);
  return [first];
}

function joinRuns(group: readonly Box[], lo: number): Box[] {
  const runs: Box[] = [];
  for (const box of [...group].sort((a, b) => at(a, lo) - at(b, lo))) {
    const run = runs.at(-1);
    if (run && at(run, lo + 1) + 1 === at(box, lo)) run[lo + 1] = at(box, lo + 1);
    else runs.push(box);
  }
  return runs;
}

/**
 * Boxes that hang together side by side. Only they can ever be joined, so each cluster is put into
 * its form alone, and cost follows the clusters and not their number.
 */
function clusters(table: Table, boxes: readonly Box[]): Box[][] {
  const sets = setColumns(table);
  const left = new Set(boxes);
  const found: Box[][] = [];
  for (const first of boxes) {
    if (!left.delete(first)) continue;
    const cluster = [first];
    for (const box of cluster) {
      for (const other of left) {
        if (!isBeside(sets, box, other)) continue;
        left.delete(other);
        cluster.push(other);
      }
    }
    found.push(cluster);
  }
  return found;
}

/** They share cells in every column but one, and there they are next to each other; any two values of a set are. */
function isBeside(sets: readonly boolean[], a: Box, b: Box): boolean {
  let apart = 0;
  for (let c = 0; c < sets.length; c++) {
    const lo = 2 * c;
    if (sets[c]) {
      if ((at(a, lo) & at(b, lo)) === 0) apart++;
    } else if (at(a, lo + 1) < at(b, lo) || at(b, lo + 1) < at(a, lo)) {
      if (at(a, lo + 1) + 1 !== at(b, lo) && at(b, lo + 1) + 1 !== at(a, lo)) return false;
      apart++;
    }
    if (apart > 1) return false;
  }
  return true;
}

/** `boxes` differ in nothing left of `column`; what comes back is right from `column` on. */
function mergeFrom(table: Table, boxes: readonly Box[], column: number, effort: Effort): Box[] {
  if (!effort.spend(1)) return [];
  if (column === table.columns.length || boxes.length === 1) return boxes.slice(0, 1);
  return table.columns[column]?.kind === 'set'
    ? mergeSet(table, boxes, column, effort)
    : mergeOrdered(table, boxes, column, effort);
}

function mergeOrdered(table: Table, boxes: readonly Box[], column: number, effort: Effort): Box[] {
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
    for (const rest of here.length > 0 ? mergeFrom(table, here, column + 1, effort) : []) {
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

function mergeSet(table: Table, boxes: readonly Box[], column: number, effort: Effort): Box[] {
  const lo = 2 * column;
  const byTail = new Map<string, Box>();
  for (const bits of parts(boxes.map((box) => at(box, lo)))) {
    const here = boxes.filter((box) => (at(box, lo) & bits) !== 0);
    for (const rest of mergeFrom(table, here, column + 1, effort)) {
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
