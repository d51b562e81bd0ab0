import { describe, expect, it } from 'vitest';
import { defenderIdSchema } from '../ids.ts';
import { formationPlay } from '../plays.test-kit.ts';
import { giveMen, type Taker } from './man.ts';
import { pictureOf } from './picture.ts';
import type { Target } from './recipe.ts';

const taker = (name: string, home: number, takes: readonly Target[]): Taker => ({
  id: defenderIdSchema.parse(name),
  home,
  job: { kind: 'man', takes: [...takes], free: { kind: 'rush' } },
});

const given = (formation: string, takers: readonly Taker[]): Record<string, string> =>
  Object.fromEntries(
    [...giveMen(takers, pictureOf(formationPlay(formation)))].map(([id, player]) => [
      id,
      player.label,
    ]),
  );

describe('giving out the men', () => {
  it('follows the wishes where they can all be had', () => {
    const men = given('two-backs', [
      taker('strong-corner', 10, ['strong1']),
      taker('overhang', 5, ['strong2']),
      taker('weak-corner', -10, ['weak1']),
      taker('mike', 0, ['back1']),
      taker('will', -2, ['back2']),
    ]);
    expect(men).toMatchObject({ 'strong-corner': 'Z', overhang: 'Y', 'weak-corner': 'X' });
    expect(new Set([men.mike, men.will])).toEqual(new Set(['F', 'B']));
  });

  it('prefers whom a defender would rather have, whoever comes first', () => {
    const wishes = [taker('a', 10, ['strong2', 'strong1']), taker('b', 10, ['strong1', 'strong2'])];
    const rest = ['c', 'd', 'e'].map((name) => taker(name, 0, ['weak1', 'weak2', 'back1']));
    for (const takers of [
      [...wishes, ...rest],
      [...rest, ...wishes.toReversed()],
    ])
      expect(given('doubles', takers)).toMatchObject({ a: 'H', b: 'Z' });
  });

  it('gives up a wish before it leaves a man free', () => {
    const men = given('trips', [
      taker('a', 10, ['strong1']),
      taker('b', 8, ['strong1', 'strong2']),
      taker('c', -10, ['weak1']),
      taker('d', 0, ['back1']),
      taker('e', 0, ['back1', 'weak1']),
    ]);
    expect(Object.values(men).sort()).toEqual(['A', 'F', 'H', 'X', 'Z']);
    expect(men).toMatchObject({ a: 'Z', b: 'H', c: 'X' });
  });

  it('sends the nearest where nobody was told', () => {
    const men = given('doubles', [taker('far', -20, ['back2']), taker('near', 19, ['back2'])]);
    expect(men.far).toBe('X');
    expect(men.near).toBe('Z');
  });

  it('leaves a defender without a man when there are more of them', () => {
    const takers = ['a', 'b', 'c', 'd', 'e', 'f'].map((name) => taker(name, 0, ['strong1']));
    expect(Object.keys(given('doubles', takers))).toHaveLength(5);
  });
});
