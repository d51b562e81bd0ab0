import { builtInLooks, lookRecipeSchema } from '@stemline/football/shelf';
import { expect, it } from 'vitest';
import { copyOf } from './copy-look.ts';

it('begins another look under a free name and id that can be saved', () => {
  for (const recipe of builtInLooks) {
    const first = copyOf(recipe, builtInLooks);
    const second = copyOf(recipe, [...builtInLooks, first]);
    const taken = [...builtInLooks, first].flatMap((one) => [one.name, one.id]);
    expect(taken).not.toContain(second.name);
    expect(taken).not.toContain(second.id);
    expect(lookRecipeSchema.safeParse(second).success).toBe(true);
  }
});

it('finds room in a name and an id of full length', () => {
  const [recipe] = builtInLooks;
  if (recipe === undefined) throw new Error('the shelf has looks');
  const long = lookRecipeSchema.parse({ ...recipe, id: 'x'.repeat(40), name: 'n'.repeat(60) });
  expect(lookRecipeSchema.safeParse(copyOf(long, [long])).success).toBe(true);
});
