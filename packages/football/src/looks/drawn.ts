import { z } from 'zod';
import { pointSchema } from '../geometry.ts';
import { defenderIdSchema, lookIdSchema } from '../ids.ts';
import { levelSchema, lookTraitsSchema } from '../look.ts';
import { plainText } from '../plain-text.ts';
import { jobSchema } from './recipe.ts';

/** A defender as a coach put him on the board: where he stands, and what he does if he was told. */
export const drawnDefenderSchema = z.strictObject({
  id: defenderIdSchema,
  label: z.string().min(1).max(4),
  level: levelSchema,
  at: pointSchema,
  does: jobSchema.optional(),
});
export type DrawnDefender = z.infer<typeof drawnDefenderSchema>;

/** A look as drawn against one play. It may have any number of men: `problems.ts` says whether it is a defence. */
export const drawnLookSchema = z.strictObject({
  id: lookIdSchema,
  name: plainText('The name of a look', 60, 'Give the look a name.'),
  /** What is left out is read off the drawing. */
  traits: lookTraitsSchema.partial().optional(),
  defenders: z.array(drawnDefenderSchema).max(40).readonly(),
});
export type DrawnLook = z.infer<typeof drawnLookSchema>;
