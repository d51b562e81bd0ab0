import { playerIdSchema } from '@stemline/football/ids';
import { z } from 'zod';
import {
  branchIdSchema,
  conditionSchema,
  finishSchema,
  hitPolicySchema,
  rowIdSchema,
  rowSchema,
} from '../card.ts';

const offered = {
  /** Whose card it changes. */
  player: playerIdSchema,
  /** The whole edit in one sentence, as a coach would say it. */
  says: z.string().min(1).max(600),
};
const conditions = z.array(conditionSchema).max(12).readonly();
const depth = z.number().min(0).max(40);

/** An edit of a read card that takes a finding away. It can be applied, undone and proved again. */
export const mendSchema = z.discriminatedUnion('do', [
  /** Adds a row at the end. */
  z.strictObject({ ...offered, do: z.literal('addRow'), row: rowSchema }),
  /** Changes what a row asks. Where one row cannot say it, `also` are the rest of it, after that row. */
  z.strictObject({
    ...offered,
    do: z.literal('narrowRow'),
    row: rowIdSchema,
    conditions,
    also: z.array(rowSchema).max(3).readonly(),
  }),
  z.strictObject({ ...offered, do: z.literal('removeRow'), row: rowIdSchema }),
  z.strictObject({ ...offered, do: z.literal('setWhenInDoubt'), branch: branchIdSchema }),
  z.strictObject({ ...offered, do: z.literal('setPolicy'), policy: hitPolicySchema }),
  /** Moves the depths in yards past the line by which a branch is decided and between which it breaks. */
  z.strictObject({
    ...offered,
    do: z.literal('setDepths'),
    branch: branchIdSchema,
    decideBy: z.number().min(0).max(30),
    breakAt: z.strictObject({ from: depth, to: depth }),
  }),
  /** Another angle, or another way to finish. */
  z.strictObject({
    ...offered,
    do: z.literal('setFinish'),
    branch: branchIdSchema,
    finish: finishSchema,
  }),
]);
export type Mend = z.infer<typeof mendSchema>;
