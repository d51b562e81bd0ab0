import { playersOf } from '@stemline/football/formation';
import type { Play } from '@stemline/football/play';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';
import { menNamed } from './men-named.ts';

const situation = {
  code: 'college',
  spot: 'middle',
  toGoal: 60,
  down: 1,
  toGain: 10,
} as const;
const play: Play = {
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }),
  routes: {},
  motions: {},
};

describe('men in a list', () => {
  it.each(builtInLooks)('of $name have eleven names', (recipe) => {
    const names = menNamed(alignLook(recipe, play).defenders);
    expect(new Set(names.values()).size).toBe(11);
  });

  it('two corners are told apart by where they stand, and one of a letter is not', () => {
    const [recipe] = builtInLooks;
    if (!recipe) throw new Error('there are looks');
    const { defenders } = alignLook(recipe, play);
    const corners = defenders.filter(({ level }) => level === 'corner');
    const [left, right] = [...corners].sort((a, b) => a.at[0] - b.at[0]);
    if (!left || !right) throw new Error('there are two corners');
    const names = menNamed([left, right]);
    expect([names.get(left.id), names.get(right.id)]).toEqual(['C (left)', 'C (right)']);
    expect([...menNamed([left]).values()]).toEqual(['C']);
  });
});
