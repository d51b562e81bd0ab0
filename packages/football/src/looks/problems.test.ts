import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry.ts';
import { defenderIdSchema } from '../ids.ts';
import { anyFormation, formationPlay } from '../plays.test-kit.ts';
import { alignLook, builtInLooks } from '../shelf.ts';
import { lookProblems, recipeProblems } from './problems.ts';

const recipe = builtInLooks[0];
if (!recipe) throw new Error('the shelf is empty');
const { defenders } = alignLook(recipe, formationPlay('doubles'));
const moved = (index: number, at: Point) =>
  defenders.map((man, i) => (i === index ? { ...man, at } : man));
const of = (men: Parameters<typeof lookProblems>[0]['defenders']) =>
  lookProblems({ defenders: men }).map(({ code, path }) => [code, path.join('.')]);

describe('what a look as drawn has against it', () => {
  it('is nothing where a recipe of the shelf stands, whatever it faces', () => {
    fc.assert(
      fc.property(fc.constantFrom(...builtInLooks), anyFormation, (one, play) => {
        expect(lookProblems(alignLook(one, play))).toEqual([]);
        expect(recipeProblems(one)).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });

  it.each([10, 12, 0])('%i men are not eleven', (count) => {
    const more = Array.from({ length: count }, (_, i) => ({
      id: defenderIdSchema.parse(`d${i}`),
      label: `D${i}`,
      at: [i * 2 - 10, 5] as const,
    }));
    const [found] = lookProblems({ defenders: more });
    expect(found).toMatchObject({ code: 'notEleven', path: ['defenders'] });
    expect(found?.says).toContain(String(count));
  });

  it('names the later of two in one place', () => {
    const first = defenders[0]?.at ?? [0, 0];
    expect(of(moved(4, [first[0] + 0.3, first[1]]))).toEqual([['samePlace', 'defenders.4.at']]);
    expect(of(moved(4, [first[0] - 0.6, first[1]]))).toEqual([]);
  });

  it('names who is offside, in the neutral zone or over the line, and who is out of bounds', () => {
    expect(of(moved(2, [-6, 0.3]))).toEqual([['offside', 'defenders.2.at']]);
    expect(of(moved(2, [-6, -1]))).toEqual([['offside', 'defenders.2.at']]);
    expect(of(moved(2, [-6, 0.31]))).toEqual([]);
    expect(of(moved(2, [-26.7, 3]))).toEqual([['offField', 'defenders.2.at']]);
    expect(of(moved(2, [Number.NaN, 3]))).toEqual([['notANumber', 'defenders.2.at']]);
  });

  it('names an id that two have', () => {
    const men = defenders.map((man, i) =>
      i === 3 ? { ...man, id: defenders[0]?.id ?? man.id } : man,
    );
    expect(of(men)).toEqual([['twoDefendersOneId', 'defenders.3.id']]);
  });
});

it('a recipe whose rules put two men in one place names the later', () => {
  const [first, second, ...rest] = recipe.defenders;
  if (!first || !second) throw new Error('the look has nobody');
  const found = recipeProblems({ defenders: [first, { ...second, stand: first.stand }, ...rest] });
  expect(found).toMatchObject([{ code: 'sameRule', path: ['defenders', 1, 'stand'] }]);
});
