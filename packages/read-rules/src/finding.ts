import { playerIdSchema } from '@stemline/football/ids';
import { alignedLookSchema, reactionChoiceSchema } from '@stemline/football/look';
import { z } from 'zod';
import { branchIdSchema, rowIdSchema } from './card.ts';
import { mendSchema } from './mends/mend.ts';

/** What the rule check can say. SPEC.md states when each must and must not appear. */
export const findingKindSchema = z.enum([
  'gap',
  'clash',
  'neverUsed',
  'noKey',
  'twoKeys',
  'lateDecision',
  'late',
  'early',
  'crowded',
  'outOfRoom',
  'outOfReach',
  'undercut',
  'unblocked',
  'noHot',
  'hotKeys',
  'unseen',
  'noDefault',
  'illegalFormation',
  'unfinished',
  'offThePage',
]);
export type FindingKind = z.infer<typeof findingKindSchema>;

/** `stop` blocks sign-off unless waived; `warn` should be settled; `note` is for the record. */
export const severitySchema = z.enum(['stop', 'warn', 'note']);
export type Severity = z.infer<typeof severitySchema>;

/** An element of a play that a finding is about; the same keys name the elements of a board. */
export const elementSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('player'), player: playerIdSchema }),
  z.strictObject({ kind: z.literal('route'), player: playerIdSchema }),
  z.strictObject({ kind: z.literal('motion'), player: playerIdSchema }),
  z.strictObject({ kind: z.literal('card'), player: playerIdSchema }),
  z.strictObject({ kind: z.literal('row'), player: playerIdSchema, row: rowIdSchema }),
  z.strictObject({ kind: z.literal('branch'), player: playerIdSchema, branch: branchIdSchema }),
  z.strictObject({ kind: z.literal('formation') }),
]);
export type Element = z.infer<typeof elementSchema>;

/** The look and reactions that prove a finding. It can always be stood on the board. */
export const witnessSchema = z.strictObject({
  look: alignedLookSchema,
  reactions: reactionChoiceSchema,
  /** Every fact of the card as the witness sets it, in words: "key 1.2 yd inside, rushes". */
  says: z.string(),
});
export type Witness = z.infer<typeof witnessSchema>;

export const findingSchema = z.strictObject({
  /** The same conflict has the same id from one check to the next, on any machine. */
  id: z.string().min(1).max(200),
  kind: findingKindSchema,
  severity: severitySchema,
  elements: z.array(elementSchema).min(1).readonly(),
  /** A sentence that a coach would say. */
  says: z.string(),
  /** What to do about it. */
  mend: z.string(),
  /** Where it was proved but no shelf look shows it, the witness is built by the prover. */
  witness: witnessSchema.nullable(),
  /** Edits that take it away, the likeliest first; left out where none is offered. */
  mends: z.array(mendSchema).max(12).readonly().optional(),
});
export type Finding = z.infer<typeof findingSchema>;
