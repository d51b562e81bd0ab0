import type { Condition } from '@stemline/read-rules/card';
import { describe, expect, it } from 'vitest';
import { readNumber } from '../common/draft-number.tsx';
import { type Ask, askOf, conditionFrom } from './ask.ts';

const range = (from: string, to: string, kind: 'closed' | 'open' = 'closed'): Ask => ({
  kind: 'range',
  from: from === '' ? { kind: 'any', text: '' } : { kind, text: from },
  to: to === '' ? { kind: 'any', text: '' } : { kind, text: to },
});

describe('a cell', () => {
  it.each<Condition>([
    { kind: 'range', fact: 'keyOffset', from: { at: -0.5, closed: true }, to: null },
    {
      kind: 'range',
      fact: 'keyDepth',
      from: { at: 1, closed: false },
      to: { at: 4, closed: true },
    },
    { kind: 'is', fact: 'keyRushes', value: false },
    { kind: 'oneOf', fact: 'front', values: ['odd'] },
  ])('comes back as it went in: $fact', (condition) => {
    expect(conditionFrom(condition.fact, askOf(condition.fact, condition))).toEqual({
      ok: true,
      condition,
    });
  });

  it('that asks for everything asks nothing', () => {
    expect(conditionFrom('keyOffset', range('', ''))).toEqual({ ok: true, condition: null });
    expect(conditionFrom('front', { kind: 'oneOf', values: ['even', 'odd'] })).toEqual({
      ok: true,
      condition: null,
    });
    expect(conditionFrom('keyRushes', askOf('keyRushes', undefined))).toEqual({
      ok: true,
      condition: null,
    });
  });

  it('says what is wrong in place', () => {
    expect(conditionFrom('keyOffset', range('3', '1'))).toMatchObject({ ok: false });
    expect(conditionFrom('keyOffset', range('2', '2', 'open'))).toMatchObject({ ok: false });
    expect(conditionFrom('keyOffset', range('two', ''))).toEqual({
      ok: false,
      wrong: '“two” is not a number.',
    });
    expect(conditionFrom('keyDepth', range('-3', ''))).toEqual({
      ok: false,
      wrong: 'It can only be 0 to 40.',
    });
  });
});

describe('a number as people type it', () => {
  it.each([
    ['1,5', 1.5],
    [' 2 ', 2],
    ['−0.5', -0.5],
    ['.5', 0.5],
  ])('%s', (text, number) => expect(readNumber(text)).toBe(number));
  it.each(['', '1e3', '0x10', '1.2.3', 'NaN'])('not %s', (text) =>
    expect(readNumber(text)).toBeNaN(),
  );
});
