import { type Condition, conditionSchema } from '@stemline/read-rules/card';
import { factNames, facts } from '@stemline/read-rules/facts';
import { describe, expect, it } from 'vitest';
import { cellWords } from './card-words.ts';

const range = (fact: Condition['fact'], from: number | null, to: number | null): Condition =>
  conditionSchema.parse({
    kind: 'range',
    fact,
    from: from === null ? null : { at: from, closed: true },
    to: to === null ? null : { at: to, closed: false },
  });

describe('what a cell says under the name of its fact', () => {
  it.each<[Condition, string]>([
    [range('keyOffset', 2, 4), '2.0 yd or more but less than 4.0 yd inside'],
    [range('keyDepth', null, 4), 'less than 4.0 yd'],
    [range('roomInside', 2, null), '2.0 yd or more'],
    [range('rushers', 5, null), '5 or more'],
    [{ kind: 'is', fact: 'keyRushes', value: false }, 'no'],
    [{ kind: 'oneOf', fact: 'keyMove', values: ['drop', 'sit'] }, 'drops or sits'],
  ])('%o', (condition, words) => {
    expect(cellWords(condition)).toBe(words);
  });

  it('every fact has words for every kind of question', () => {
    for (const fact of factNames) {
      const { domain } = facts[fact];
      const condition: Condition =
        domain.kind === 'boolean'
          ? { kind: 'is', fact, value: true }
          : domain.kind === 'enumerated'
            ? { kind: 'oneOf', fact, values: [domain.values[0] ?? ''] }
            : range(fact, domain.min, domain.max);
      expect(cellWords(condition)).toMatch(/\S/);
    }
  });
});
