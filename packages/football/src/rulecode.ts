import { z } from 'zod';

/** Whose playing rules hold. Values that differ by code live in `field.ts` and `legality/`. */
export const ruleCodeSchema = z.enum(['highSchool', 'college', 'professional']);
export type RuleCode = z.infer<typeof ruleCodeSchema>;
