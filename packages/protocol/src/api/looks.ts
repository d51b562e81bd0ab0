import { lookRecipeSchema } from '@stemline/football/shelf';
import { z } from 'zod';

export const newLookSchema = z.strictObject({ recipe: lookRecipeSchema });
export const staffLookSchema = z.object({
  id: z.string(),
  order: z.number().int(),
  recipe: lookRecipeSchema,
});
export type StaffLook = z.infer<typeof staffLookSchema>;
