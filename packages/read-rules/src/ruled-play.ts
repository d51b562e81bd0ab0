import { playSchema } from '@stemline/football/play';
import type { z } from 'zod';
import { z as zod } from 'zod';
import { readCardSchema } from './card.ts';

/** A play together with its read cards: what the rule check works on. */
export const ruledPlaySchema = playSchema.extend({
  cards: zod.array(readCardSchema).max(11).readonly(),
});
export type RuledPlay = z.infer<typeof ruledPlaySchema>;
