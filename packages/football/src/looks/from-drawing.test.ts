import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, type Point } from '../geometry.ts';
import { defenderIdSchema, lookIdSchema } from '../ids.ts';
import { levelSchema } from '../look.ts';
import type { Play } from '../play.ts';
import { anyFormation, formationPlay } from '../plays.test-kit.ts';
import { alignLook, builtInLooks, lookRecipeSchema } from '../shelf.ts';
import { type DrawnDefender, drawnLookSchema } from './drawn.ts';
import { explanationsOf } from './explain.ts';
import { recipeFromDrawing } from './from-drawing.ts';
import { widest } from './picture.ts';
import { elbowRoom } from './separate.ts';

const hints = { id: lookIdSchema.parse('drawn'), name: 'As drawn' };
const drawn = (label: string, level: DrawnDefender['level'], at: Point): DrawnDefender => ({
  id: defenderIdSchema.parse(label.toLowerCase()),
  label,
  level,
  at,
});

/** Eleven places that two men never share, on the field and with room behind. */
const anyDrawn = (play: Play): fc.Arbitrary<DrawnDefender[]> =>
  fc
    .array(
      fc.record({
        level: fc.constantFrom(...levelSchema.options),
        x: fc.integer({ min: -Math.floor(widest * 20), max: Math.floor(widest * 20) }),
        y: fc.integer({ min: 12, max: Math.min(25, play.situation.toGoal + 5) * 20 }),
      }),
      { minLength: 40, maxLength: 60 },
    )
    .map((spots) => {
      const men: DrawnDefender[] = [];
      for (const { level, x, y } of spots) {
        const at: Point = [x / 20, y / 20];
        if (men.length < 11 && men.every((man) => distance(man.at, at) >= elbowRoom))
          men.push(drawn(`D${men.length}`, level, at));
      }
      return men;
    })
    .filter((men) => men.length === 11);

describe('the rule by example', () => {
  it('puts every man back where he was drawn, and is a recipe', () => {
    const withMen = anyFormation.chain((play) => anyDrawn(play).map((men) => ({ play, men })));
    fc.assert(
      fc.property(withMen, ({ play, men }) => {
        expect(drawnLookSchema.safeParse({ ...hints, defenders: men }).success).toBe(true);
        const recipe = lookRecipeSchema.parse(recipeFromDrawing(play, men, hints));
        for (const [i, { at, label }] of alignLook(recipe, play).defenders.entries())
          expect(distance(at, men[i]?.at ?? [99, 99]), label).toBeLessThanOrEqual(0.25 + 1e-9);
      }),
      { numRuns: 200 },
    );
  });

  it('puts the men of every built-in look back, drawn from how they stand', () => {
    fc.assert(
      fc.property(fc.constantFrom(...builtInLooks), anyFormation, (recipe, play) => {
        const look = alignLook(recipe, play);
        const men = look.defenders.map(({ id, label, level, at }) => ({ id, label, level, at }));
        fc.pre(men.every(({ at }) => at[1] <= play.situation.toGoal + 5));
        const again = alignLook(recipeFromDrawing(play, men, hints), play);
        for (const [i, { at, label }] of again.defenders.entries())
          expect(distance(at, men[i]?.at ?? [99, 99]), label).toBeLessThanOrEqual(0.26);
      }),
      { numRuns: 150 },
    );
  });

  const doubles = formationPlay('doubles');
  const [slot] = doubles.players.find(({ label }) => label === 'H')?.at ?? [99];
  const [wide] = doubles.players.find(({ label }) => label === 'Z')?.at ?? [99];

  it.each([
    [drawn('E', 'line', [3.35, 0.8]), 'technique', 'line'],
    [drawn('N', 'line', [0, 0.8]), 'technique', 'line'],
    [drawn('M', 'second', [0.5, 4.5]), 'technique', 'line'],
    [drawn('S', 'second', [4.4, 1.2]), 'edge', 'line'],
    [drawn('NB', 'second', [slot - 1, 5]), 'over', 'receiver'],
    [drawn('W', 'second', [-(slot + 2.8) / 2, 5]), 'apex', 'receiver'],
    [drawn('C', 'corner', [wide - 1, 7]), 'over', 'receiver'],
    [drawn('FS', 'deep', [0.1, 13]), 'post', 'field'],
    [drawn('SS', 'deep', [slot, 13]), 'shell', 'formation'],
  ] as const)('$0.label by his $1 follows the $2', (man, kind, follows) => {
    const [best] = explanationsOf(doubles, man);
    expect(best).toMatchObject({ at: { kind }, follows });
    expect(best?.says).not.toBe('');
  });

  it('offers other rules for the same place, and follows the one that is chosen', () => {
    const man = drawn('NB', 'second', [slot - 1, 5]);
    const all = explanationsOf(doubles, man);
    expect(new Set(all.map(({ at }) => at.kind)).size).toBeGreaterThanOrEqual(3);
    const chosen = all.find(({ at }) => at.kind === 'fromBall')?.at;
    if (!chosen) throw new Error('the last resort is not offered');
    const men = (alignLook(builtInLooks[0] ?? neverLook(), doubles).defenders ?? []).map(
      ({ id, label, level, at }) => (label === 'NB' ? { ...man, id } : { id, label, level, at }),
    );
    const nickel = men.find(({ label }) => label === 'NB');
    const recipe = recipeFromDrawing(doubles, men, {
      ...hints,
      stands: nickel ? { [nickel.id]: chosen } : {},
    });
    const over = (play: Play): number =>
      alignLook(recipe, play).defenders.find(({ label }) => label === 'NB')?.at[0] ?? 99;
    expect(over(doubles)).toBeCloseTo(over(formationPlay('trips')), 2);
    const following = recipeFromDrawing(doubles, men, hints);
    const tripsSlot =
      formationPlay('trips').players.find(({ label }) => label === 'H')?.at[0] ?? 99;
    expect(
      alignLook(following, formationPlay('trips')).defenders.find(({ label }) => label === 'NB')
        ?.at[0],
    ).toBeCloseTo(tripsSlot - 1, 1);
  });

  it('goes by the coverage that is said: men in man take the receiver they stand over', () => {
    const look = alignLook(builtInLooks[0] ?? neverLook(), doubles);
    const men = look.defenders.map(({ id, label, level, at }) => ({ id, label, level, at }));
    const recipe = recipeFromDrawing(doubles, men, { ...hints, traits: { coverage: 'man' } });
    const corner = alignLook(recipe, doubles).defenders.find(
      ({ label, at }) => label === 'C' && at[0] > 0,
    );
    expect(corner?.reactions[0]?.says).toBe('takes Z man to man');
  });
});

function neverLook(): never {
  throw new Error('the shelf is empty');
}
