/**
 * The prover against an independent solver: logic-solver 2.0.1 (MIT), which runs MiniSat (N. Eén and
 * N. Sörensson, "An Extensible SAT-solver", SAT 2003), on random cards over Boolean and enumerated
 * facts. The solver is given the card's rows as clauses and knows nothing of regions.
 */

import type { Condition, ReadCard, Row } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { facts } from '@stemline/read-rules/facts';
import { impossible } from '@stemline/read-rules/facts/world';
import { prove } from '@stemline/read-rules/prove';
import type { Region } from '@stemline/read-rules/space/region';
import { anyCard } from '@stemline/read-rules/testing/cards';
import fc from 'fast-check';
import Logic, { type Formula } from 'logic-solver';
import { describe, expect, it } from 'vitest';
import { readPlay } from './read-rules-plays.ts';

const play = readPlay('lantern');

const discrete: readonly FactName[] = [
  'keyMove',
  'keyRushes',
  'manOutside',
  'front',
  'shell',
  'middle',
  'coverage',
  'mikeLean',
];

const valuesOf = (name: FactName): readonly (string | boolean)[] => {
  const { domain } = facts[name];
  return domain.kind === 'enumerated' ? domain.values : [false, true];
};
const variable = (name: string, value: string | boolean): string => `${name}=${value}`;

function asks(condition: Condition): Formula {
  if (condition.kind === 'range') throw new Error('a range has no place here');
  const values: readonly (string | boolean)[] =
    condition.kind === 'is' ? [condition.value] : condition.values;
  return Logic.or(values.map((value) => variable(condition.fact, value)));
}
const fits = ({ conditions }: Pick<Row, 'conditions'>): Formula =>
  Logic.and([Logic.TRUE, ...conditions.map(asks)]);
const inRegion = (region: Region): Formula =>
  Logic.and([
    Logic.TRUE,
    ...region.map((side) => {
      if (side.kind !== 'values') throw new Error('an interval has no place here');
      return Logic.or(side.values.map((value) => variable(side.name, value)));
    }),
  ]);

/** A solver that knows the facts and what the world rules out. */
function solver(): InstanceType<typeof Logic.Solver> {
  const world = new Logic.Solver();
  for (const name of discrete) {
    world.require(Logic.exactlyOne(valuesOf(name).map((value) => variable(name, value))));
  }
  for (const { together } of impossible) {
    if (together.every(({ fact }) => discrete.includes(fact)))
      world.require(Logic.not(fits({ conditions: together })));
  }
  return world;
}
/** One solver for all questions: an assumption holds for one question alone. */
const world = solver();
const canBe = (formula: Formula): boolean => world.solveAssuming(formula) !== null;

const anyDiscrete = anyCard(discrete);
const under = (card: ReadCard, policy: 'first' | 'unique'): ReadCard => ({
  ...card,
  head: { ...card.head, policy },
});

describe('the prover and MiniSat agree', () => {
  it('P1 P3 on gaps: each region can be and holds no row, and outside the regions there is no gap', () => {
    let gapped = 0;
    let complete = 0;
    fc.assert(
      fc.property(anyDiscrete, (card) => {
        const { gaps } = prove(play, card);
        const noRow = Logic.and([Logic.TRUE, ...card.rows.map((row) => Logic.not(fits(row)))]);
        for (const region of gaps) {
          expect(canBe(inRegion(region))).toBe(true);
          for (const row of card.rows)
            expect(canBe(Logic.and(inRegion(region), fits(row)))).toBe(false);
        }
        expect(
          canBe(Logic.and([noRow, ...gaps.map((region) => Logic.not(inRegion(region)))])),
        ).toBe(false);
        expect(canBe(noRow)).toBe(gaps.length > 0);
        if (gaps.length > 0) gapped++;
        else complete++;
      }),
      { numRuns: 150 },
    );
    expect(gapped).toBeGreaterThan(10);
    expect(complete).toBeGreaterThan(10);
  }, 60_000);

  it('C1 C3 on clashes: two rows that disagree clash exactly when the solver finds both', () => {
    fc.assert(
      fc.property(anyDiscrete, (one) => {
        const card = under(one, 'unique');
        const told = prove(play, card).overlaps.filter(({ agree }) => !agree);
        for (const [i, a] of card.rows.entries()) {
          for (const b of card.rows.slice(i + 1)) {
            if (a.branch === b.branch) continue;
            const both = told.some(({ rows }) => rows.includes(a.id) && rows.includes(b.id));
            expect(both).toBe(canBe(Logic.and(fits(a), fits(b))));
          }
        }
      }),
      { numRuns: 100 },
    );
  }, 60_000);

  it('N1 N3 on rows never used: exactly those that the solver cannot reach past the earlier ones', () => {
    fc.assert(
      fc.property(anyDiscrete, (one) => {
        const card = under(one, 'first');
        const told = prove(play, card).neverUsed.map(({ row }) => row);
        const unreachable = card.rows.filter(
          (row, i) =>
            !canBe(
              Logic.and([
                fits(row),
                ...card.rows.slice(0, i).map((earlier) => Logic.not(fits(earlier))),
              ]),
            ),
        );
        expect(told).toEqual(unreachable.map(({ id }) => id));
      }),
      { numRuns: 100 },
    );
  }, 60_000);
});
