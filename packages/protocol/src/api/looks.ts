import { recipeProblems } from '@stemline/football/looks/problems';
import { lookRecipeSchema } from '@stemline/football/shelf';
import { z } from 'zod';

/** A look to be kept: eleven men, no two of them placed by the same rule. */
export const newLookSchema = z.strictObject({
  recipe: lookRecipeSchema.superRefine((recipe, context) => {
    // Their number is the recipe's own rule.
    for (const { code, path, says, mend } of recipeProblems(recipe))
      if (code === 'sameRule')
        context.addIssue({ code: 'custom', path: [...path], message: `${says} ${mend}` });
  }),
});

/** Where a look goes on the shelf: after another, or to the front. */
export const lookPlaceSchema = z.strictObject({ after: z.string().min(1).max(60).nullable() });
export const staffLookSchema = z.object({
  id: z.string(),
  order: z.number().int(),
  recipe: lookRecipeSchema,
});
export type StaffLook = z.infer<typeof staffLookSchema>;
