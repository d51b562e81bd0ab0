/**
 * D. Calvanese, M. Dumas, Ü. Laurson, F. M. Maggi, M. Montali, I. Teinemaa, "Semantics and Analysis of
 * DMN Decision Tables", BPM 2016, LNCS 9850, pp. 217–233, DOI 10.1007/978-3-319-45348-4_13
 * (arXiv 1603.07466): table 1 and figure 1. The paper states the seven missing rules (eight white
 * areas, of which 4 and 6 are merged), the overlap of A and C, and two sample inputs. The sizes of
 * the areas were worked out from the table. Its facets have no upper end; the universe here is the
 * one its figure draws, income up to 2500 and loan up to 5000.
 */
import type { Axis } from '@stemline/read-rules/space/column';
import { Effort } from '@stemline/read-rules/space/effort';
import { merge } from '@stemline/read-rules/space/merge';
import { overlaps } from '@stemline/read-rules/space/overlaps';
import { holds, type Region, regionOf, regionText } from '@stemline/read-rules/space/region';
import { type AskedRow, meet, tableOf } from '@stemline/read-rules/space/table';
import { uncovered } from '@stemline/read-rules/space/uncovered';
import { describe, expect, it } from 'vitest';

const axes: readonly Axis[] = [
  { name: 'income', domain: { kind: 'continuous', min: 0, max: 2500, whole: false } },
  { name: 'loan', domain: { kind: 'continuous', min: 0, max: 5000, whole: false } },
];
const closed = (column: number, from: number, to: number) => ({
  column,
  ask: { kind: 'range' as const, from: { at: from, closed: true }, to: { at: to, closed: true } },
});
const rule = (income: readonly [number, number], loan: readonly [number, number]): AskedRow => [
  closed(0, ...income),
  closed(1, ...loan),
];
const rules = [
  rule([0, 1000], [0, 1000]),
  rule([250, 750], [4000, 5000]),
  rule([500, 1500], [500, 3000]),
  rule([2000, 2500], [0, 2000]),
];
const table = tableOf(axes, rules);
const everyRule = [0, 1, 2, 3];
const regions = merge(table, uncovered(table, table.all, everyRule, new Effort(1e6))).map((box) =>
  regionOf(table, box),
);

const size = (region: Region): number =>
  region.reduce(
    (area, side) => (side.kind === 'interval' ? area * (side.to.at - side.from.at) : 0),
    1,
  );

const fitting = (income: number, loan: number): string =>
  everyRule
    .filter((i) => {
      const box = table.rows[i];
      return box && regionOf(table, box).every((side, c) => holds(side, [income, loan][c]));
    })
    .map((i) => 'ABCD'[i])
    .join('');

describe('Calvanese et al. 2016, table 1', () => {
  it('P1 P4 G3 G4 has exactly the seven missing rules of figure 1, ends open and closed as drawn', () => {
    expect(regions.map(regionText).sort()).toEqual(
      [
        'income:[0,250);loan:(1000,5000]',
        'income:[250,500);loan:(1000,4000)',
        'income:[500,750];loan:(3000,4000)',
        'income:(750,1500];loan:(3000,5000]',
        'income:(1000,1500];loan:[0,500)',
        'income:(1500,2000);loan:[0,5000]',
        'income:[2000,2500];loan:(2000,5000]',
      ].sort(),
    );
  });

  it('has areas of the sizes that follow from the table, 7,750,000 of 12,500,000 in all', () => {
    const sizes = regions.map(size).sort((a, b) => a - b);
    expect(sizes).toEqual([250_000, 250_000, 750_000, 1_000_000, 1_500_000, 1_500_000, 2_500_000]);
    expect(sizes.reduce((sum, area) => sum + area)).toBe(7_750_000);
  });

  it('C4 has one maximal overlap, A and C, on [500,1000] x [500,1000]', () => {
    expect(overlaps(table, everyRule, [], new Effort(1e6))).toEqual([[0, 2]]);
    const [a, , c] = table.rows;
    const shared = a && c ? meet(table, a, c) : null;
    expect(shared && regionText(regionOf(table, shared))).toBe('income:[500,1000];loan:[500,1000]');
  });

  it('answers its two sample inputs: ⟨500, 4230⟩ by B alone, ⟨200, 2000⟩ by nothing', () => {
    expect(fitting(500, 4230)).toBe('B');
    expect(fitting(200, 2000)).toBe('');
    expect(
      regions.filter((region) => region.every((side, c) => holds(side, [200, 2000][c]))),
    ).toHaveLength(1);
  });
});
