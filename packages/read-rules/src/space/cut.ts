import { at, type Box, relation } from './table.ts';

/** Where to part a box: an ordered column before `cell`, or a set column into `bits` and the rest. */
export interface Cut {
  readonly column: number;
  readonly at: number;
}

const work = (rows: number): number => rows * Math.log2(rows + 2);

/**
 * The cut through a border of some row that leaves the least work on both sides: few rows cut in
 * two, and sides of even size. A table that grew by splitting, with some noise, is taken apart
 * almost along its own splits, so cost stays near n log n; binary space partition with a free choice
 * of plane (Fuchs, Kedem and Naylor 1980; as used for covers of boxes by Chan, "Klee's measure
 * problem made easy", FOCS 2013).
 *
 * Needs a row that crosses the box; null otherwise.
 */
export function bestCut(
  sets: readonly boolean[],
  boxes: readonly (Box | null)[],
  box: Box,
  rows: Int32Array,
): Cut | null {
  const n = rows.length;
  const los = new Int32Array(n);
  const his = new Int32Array(n);
  let best: Cut | null = null;
  let bestCost = Number.POSITIVE_INFINITY;
  for (let c = 0; c < sets.length; c++) {
    if (sets[c]) {
      const whole = at(box, 2 * c);
      const alike = new Map<number, number>();
      for (let i = 0; i < n; i++) {
        const bits = at(boxes[at(rows, i)] as Box, 2 * c) & whole;
        alike.set(bits, (alike.get(bits) ?? 0) + 1);
      }
      // In order of their bits, so that the order of the rows changes nothing.
      for (const bits of [...alike.keys()].sort((a, b) => a - b)) {
        if (bits === whole) continue;
        let inside = 0;
        let outside = 0;
        for (const [other, count] of alike) {
          if ((other & bits) !== 0) inside += count;
          if ((other & ~bits) !== 0) outside += count;
        }
        const cost = work(inside) + work(outside);
        if (cost < bestCost) {
          bestCost = cost;
          best = { column: c, at: bits };
        }
      }
      continue;
    }
    const lo = at(box, 2 * c);
    const hi = at(box, 2 * c + 1);
    if (lo === hi) continue;
    let crosses = false;
    for (let i = 0; i < n; i++) {
      const row = boxes[at(rows, i)] as Box;
      los[i] = Math.max(lo, at(row, 2 * c));
      his[i] = Math.min(hi, at(row, 2 * c + 1)) + 1;
      if (at(los, i) > lo || at(his, i) <= hi) crosses = true;
    }
    if (!crosses) continue;
    los.sort();
    his.sort();
    // `started` rows begin before the cut, `ended` rows are over by then.
    let started = 0;
    let ended = 0;
    while (started < n || ended < n) {
      const nextLo = started < n ? at(los, started) : Number.POSITIVE_INFINITY;
      const nextHi = ended < n ? at(his, ended) : Number.POSITIVE_INFINITY;
      const cell = Math.min(nextLo, nextHi);
      while (ended < n && at(his, ended) === cell) ended++;
      if (cell > lo && cell <= hi) {
        const cost = work(started) + work(n - ended);
        if (cost < bestCost) {
          bestCost = cost;
          best = { column: c, at: cell };
        }
      }
      while (started < n && at(los, started) === cell) started++;
    }
  }
  return best;
}

/** The two sides of a cut: what lies before it (or in its bits), and the rest. */
export function part(sets: readonly boolean[], box: Box, cut: Cut): readonly [Box, Box] {
  const before = box.slice();
  const after = box.slice();
  const lo = 2 * cut.column;
  if (sets[cut.column]) {
    before[lo] = at(box, lo) & cut.at;
    after[lo] = at(box, lo) & ~cut.at;
  } else {
    before[lo + 1] = cut.at - 1;
    after[lo] = cut.at;
  }
  return [before, after];
}

/** The rows that reach into a box, and whether one of them covers it whole. */
export function reaching(
  sets: readonly boolean[],
  boxes: readonly (Box | null)[],
  box: Box,
  rows: Int32Array,
): { readonly rows: Int32Array; readonly crossing: Int32Array; readonly covering: Int32Array } {
  const crossing: number[] = [];
  const covering: number[] = [];
  const all: number[] = [];
  for (const row of rows) {
    const how = relation(sets, boxes[row] as Box, box);
    if (how === 'apart') continue;
    all.push(row);
    (how === 'covers' ? covering : crossing).push(row);
  }
  return {
    rows: Int32Array.from(all),
    crossing: Int32Array.from(crossing),
    covering: Int32Array.from(covering),
  };
}
