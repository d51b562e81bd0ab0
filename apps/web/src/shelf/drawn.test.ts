import { ballX } from '@stemline/football/field';
import { distance } from '@stemline/football/geometry';
import { alignLook, builtInLooks, lookRecipeSchema } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';
import { formationPlay, plainSituation } from '../book/formation-play.ts';
import { drawingOf, oneMore, problemsOf, recipeOf, touched, withMan } from './drawn.ts';

const situation = plainSituation('highSchool', 'middle');
const play = formationPlay('doubles', situation, 'right');
const trips = formationPlay('trips', situation, 'right');
const ball = ballX(situation);
const [recipe] = builtInLooks;
if (!recipe) throw new Error('the shelf is empty');
const fresh = drawingOf(recipe, play, false);
const [first, second] = fresh.men;
if (!first || !second) throw new Error('the look has nobody');

describe('a look drawn by hand', () => {
  it.each(builtInLooks)(
    '$name: drawn as it stands, it may be kept and stands there again',
    (one) => {
      const drawing = drawingOf(one, play, false);
      expect(problemsOf(drawing, ball)).toEqual([]);
      const again = lookRecipeSchema.parse(recipeOf(drawing, play, 'drawn'));
      for (const [i, { at }] of alignLook(again, play).defenders.entries())
        expect(distance(at, drawing.men[i]?.at ?? [99, 99])).toBeLessThanOrEqual(0.26);
    },
  );

  it('takes its name from nothing that it was begun with, and keeps it when redrawn', () => {
    expect(fresh.name).toBe('');
    expect(drawingOf(recipe, play, true).name).toBe(recipe.name);
  });

  it('redrawn, leaves the rules of whoever was not touched as they were', () => {
    const drawing = drawingOf(recipe, play, true);
    expect(recipeOf(drawing, play, 'drawn').defenders).toEqual(recipe.defenders);
    const [man] = drawing.men;
    if (!man) throw new Error('the look has nobody');
    const moved = withMan(drawing, man.id, touched(man, { at: [man.at[0], 1.4] }));
    const now = recipeOf(moved, play, 'drawn').defenders;
    expect(now.slice(1)).toEqual(recipe.defenders.slice(1));
    expect(now[0]?.stand).not.toEqual(recipe.defenders[0]?.stand);
    expect(now[0]?.does.otherwise).toEqual(recipe.defenders[0]?.does.otherwise);
  });

  it('of ten or twelve men, or with two in one place, is refused with the place', () => {
    expect(problemsOf({ ...fresh, men: fresh.men.slice(1) }, ball)[0]?.says).toContain('10 men');
    expect(problemsOf(oneMore(fresh, ball), ball)).toMatchObject([{ man: null }]);
    const onTop = withMan(fresh, second.id, touched(second, { at: first.at }));
    const [trouble] = problemsOf(onTop, ball);
    expect(trouble?.man).toBe(second.id);
    expect(trouble?.says).toMatch(/stand in one place\. Place: .* of the ball, 0\.8 yd deep\./);
    expect(oneMore(oneMore(fresh, ball), ball).men.map(({ id }) => id)).toHaveLength(13);
  });

  it('follows a receiver where that is chosen for him, and a place of the field where that is', () => {
    const slot = play.players.find(({ label }) => label === 'H');
    const nickel = fresh.men.find(({ label }) => label === 'NB');
    if (!slot || !nickel) throw new Error('nobody to draw');
    const over = touched(nickel, { at: [slot.at[0] - 1, 5] });
    const x = (man: typeof over): number =>
      alignLook(recipeOf(withMan(fresh, man.id, man), play, 'drawn'), trips).defenders.find(
        ({ id }) => id === man.id,
      )?.at[0] ?? 99;
    const tripsSlot = trips.players.find(({ label }) => label === 'H')?.at[0] ?? 99;
    expect(x(over)).toBeCloseTo(tripsSlot - 1, 1);
    const fixed = {
      ...over,
      stand: { kind: 'fromBall', side: 'strong', yards: slot.at[0] - 1, depth: 5 } as const,
    };
    expect(x(fixed)).toBeCloseTo(slot.at[0] - 1, 1);
  });
});
