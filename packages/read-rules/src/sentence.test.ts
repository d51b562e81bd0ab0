import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Condition } from './card.ts';
import { factSpace } from './fact-space.ts';
import { factNames, facts } from './facts.ts';
import { describeRegion } from './sentence.ts';
import { regionOf } from './space/region.ts';
import { tableOf } from './space/table.ts';
import { card, conditionOn, doubles, head, is, oneOf, range, row } from './testing/cards.ts';

/** What a row asks, said as a region is said. */
function said(direction: 'inside' | 'outside', ...conditions: readonly Condition[]): string {
  const read = card([row('a', 'in', ...conditions)], { key: { ...head().key, direction } });
  const space = factSpace(doubles(), read);
  const table = tableOf(space.axes, space.rows);
  const [box] = table.rows;
  return box ? describeRegion(read, regionOf(table, box)) : 'never';
}
const offset = (interval: string): string => said('inside', range('keyOffset', interval));

describe('a region in a coach’s words', () => {
  it('tells open ends from closed ones', () => {
    expect(offset('[2,4]')).toBe('the key sits 2.0 to 4.0 yd inside');
    expect(offset('(2,4)')).toBe('the key sits between 2.0 and 4.0 yd inside');
    expect(offset('[2,4)')).toBe('the key sits 2.0 yd or more but less than 4.0 yd inside');
    expect(offset('(2,4]')).toBe('the key sits more than 2.0 and up to 4.0 yd inside');
    expect(offset('[2,2]')).toBe('the key sits exactly 2.0 yd inside');
    expect(offset('[2,')).toBe('the key sits 2.0 yd or more inside');
    expect(offset('(2.25,')).toBe('the key sits more than 2.25 yd inside');
  });

  it('speaks of inside, outside and head-up, never of minus', () => {
    expect(offset(',0)')).toBe('the key sits outside');
    expect(offset(',0]')).toBe('the key sits head-up or outside');
    expect(offset('[0,0]')).toBe('the key sits exactly head-up');
    expect(offset('[0,')).toBe('the key sits head-up or inside');
    expect(offset('[0,2]')).toBe('the key sits from head-up to 2.0 yd inside');
    expect(offset(',2]')).toBe('the key sits no more than 2.0 yd inside');
    expect(offset('[-0.2,')).toBe('the key sits no more than 0.2 yd outside');
    expect(offset('(-0.2,1)')).toBe('the key sits between 0.2 yd outside and 1.0 yd inside');
  });

  it('joins what is said of one man, and leaves out what is all there is', () => {
    expect(
      said(
        'inside',
        range('keyOffset', '[2,4]'),
        is('keyRushes', false),
        oneOf('front', 'odd'),
        is('manOutside', true),
        oneOf('shell', 'zero', 'oneHigh', 'twoHigh'),
      ),
    ).toBe(
      'the key sits 2.0 to 4.0 yd inside and does not rush, a man stands outside of him and the front is odd',
    );
    expect(said('outside', is('manOutside', false))).toBe('nobody stands inside of him');
    expect(said('inside', range('rushers', '[6,'))).toBe('6 or more rush');
  });

  it('has words for every fact, whatever it is asked', () => {
    fc.assert(
      fc.property(fc.constantFrom(...factNames).chain(conditionOn), (condition) => {
        const text = said('inside', condition);
        expect(text).not.toMatch(/undefined|NaN|Infinity|-\d/);
      }),
      { numRuns: 500 },
    );
    for (const name of factNames) {
      const { domain, valueLabels, help } = facts[name];
      expect(help.length).toBeGreaterThan(10);
      if (domain.kind === 'enumerated')
        expect(Object.keys(valueLabels)).toEqual([...domain.values]);
    }
  });
});
