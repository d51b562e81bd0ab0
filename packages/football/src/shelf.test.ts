import { describe, expect, it } from 'vitest';
import type { AlignedLook } from './look.ts';
import { formationPlay } from './plays.test-kit.ts';
import { alignLook, builtInLooks, lookRecipeSchema } from './shelf.ts';

const doubles = formationPlay('doubles');
const rushers = (look: AlignedLook): number =>
  look.defenders.filter(({ reactions }) => reactions[0]?.move === 'rush').length;
const before = (look: AlignedLook, deeperThan: number): number =>
  look.defenders.filter(({ level, at }) => level === 'deep' && at[1] >= deeperThan).length;
/** Called to end up deep: past 12 yards. */
const deepAfter = (look: AlignedLook) =>
  look.defenders.filter(({ level, reactions }) => {
    const call = reactions[0];
    return call?.move === 'drop' && call.to[1] >= 12 && level !== 'second';
  });

describe('the built-in shelf', () => {
  it('has twenty-six looks at least, each with its own id and name', () => {
    expect(builtInLooks.length).toBeGreaterThanOrEqual(26);
    expect(new Set(builtInLooks.map(({ id }) => id)).size).toBe(builtInLooks.length);
    expect(new Set(builtInLooks.map(({ name }) => name)).size).toBe(builtInLooks.length);
  });

  it.each(builtInLooks)('$name: is data that the recipe schema takes as it is', (recipe) => {
    expect(lookRecipeSchema.parse(JSON.parse(JSON.stringify(recipe)))).toEqual(recipe);
  });

  it.each(builtInLooks)('$name: is what its traits say, before a 2x2 formation', (recipe) => {
    const look = alignLook(recipe, doubles);
    const { front, shell, middle, coverage } = look.traits;

    const line = look.defenders.filter(({ level }) => level === 'line');
    const noseOverBall = line.some(({ at }) => Math.abs(at[0]) < 0.1);
    expect(noseOverBall, 'a man head-up on the centre').toBe(front === 'odd');

    const safeties = look.defenders.filter(({ level, at }) => level === 'deep' && at[1] >= 9.5);
    expect(safeties).toHaveLength({ zero: 0, oneHigh: 1, twoHigh: 2 }[shell]);

    const manned = look.defenders.filter(({ reactions }) => reactions[0]?.move === 'man');
    expect(manned.length).toBe(coverage === 'man' ? 5 : 0);

    const inMiddle = deepAfter(look).filter(
      ({ reactions }) => Math.abs(reactions[0]?.to[0] ?? 99) < 3,
    );
    expect(inMiddle).toHaveLength(middle === 'closed' ? 1 : 0);

    if (shell === 'zero') expect(before(look, 8)).toBe(0);
  });

  it('rushes three to six, and has a look for each', () => {
    const counts = new Set(builtInLooks.map((recipe) => rushers(alignLook(recipe, doubles))));
    expect([...counts].sort()).toEqual([3, 4, 5, 6]);
  });

  it('has odd and four-man fronts with a man outside the slot and without one', () => {
    const slot = doubles.players.find(({ label }) => label === 'H')?.at ?? [0, 0];
    const hasOutside = (look: AlignedLook): boolean =>
      look.defenders.some(
        ({ at, level }) => level === 'second' && at[0] > slot[0] + 0.5 && at[0] < slot[0] + 6,
      );
    const seen = new Set(
      builtInLooks.map((recipe) => {
        const look = alignLook(recipe, doubles);
        return `${look.traits.front} ${hasOutside(look) ? 'outside' : 'none'}`;
      }),
    );
    expect(seen).toEqual(new Set(['even outside', 'even none', 'odd outside', 'odd none']));
  });

  it('refuses a recipe of ten, or with one defender twice', () => {
    const [recipe] = builtInLooks;
    const defenders = recipe?.defenders ?? [];
    expect(lookRecipeSchema.safeParse({ ...recipe, defenders: defenders.slice(1) }).success).toBe(
      false,
    );
    const twice = [...defenders.slice(1), defenders[1]];
    expect(lookRecipeSchema.safeParse({ ...recipe, defenders: twice }).success).toBe(false);
  });
});
