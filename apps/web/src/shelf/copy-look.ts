import { lookIdSchema } from '@stemline/football/ids';
import type { LookRecipe } from '@stemline/football/shelf';

/** A recipe to begin another from: a free name, and an id of its own made from it. */
export function copyOf(recipe: LookRecipe, taken: readonly LookRecipe[]): LookRecipe {
  const names = new Set(taken.map((one) => one.name));
  const ids = new Set<string>(taken.map((one) => one.id));
  let number = 2;
  const name = (): string => `${recipe.name.slice(0, 55)} ${number}`;
  const id = (): string => `${recipe.id.slice(0, 35)}-${number}`;
  while (names.has(name()) || ids.has(id())) number += 1;
  return { ...recipe, id: lookIdSchema.parse(id()), name: name() };
}
