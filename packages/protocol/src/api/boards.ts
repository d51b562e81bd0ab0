import { plainText } from '@stemline/football/plain-text';
import { conceptSchema, playNameSchema, spotSchema } from '@stemline/football/play';
import { ruleCodeSchema } from '@stemline/football/rulecode';
import { z } from 'zod';
import { groupSchema, roleSchema } from '../roles.ts';

/** One line of the book. Counts are null for those who see only what is signed off. */
export const boardLineSchema = z.object({
  id: z.string(),
  name: z.string(),
  concept: z.string(),
  formation: z.string(),
  updatedAt: z.iso.datetime(),
  archivedAt: z.iso.datetime().nullable(),
  signedVersion: z.number().int().nullable(),
  /** A change of this board waits for the head coach. */
  sentUp: z.boolean(),
  openFindings: z
    .object({ stop: z.number().int(), warn: z.number().int(), note: z.number().int() })
    .nullable(),
  openComments: z.number().int().nullable(),
});
export type BoardLine = z.infer<typeof boardLineSchema>;

export const bookQuerySchema = z.object({
  search: plainText('What you search for', 80).optional(),
  archived: z.enum(['yes', 'no']).default('no'),
});

export const newBoardSchema = z.strictObject({
  name: playNameSchema,
  concept: conceptSchema.default(''),
  /** Id of one of football's formations. */
  formation: plainText('The id of a formation', 40, 'Choose a formation.'),
  strength: z.enum(['left', 'right']).default('right'),
  spot: spotSchema.default('middle'),
  code: ruleCodeSchema,
});
export type NewBoard = z.input<typeof newBoardSchema>;

/** The board that was made. */
export const madeBoardSchema = z.object({ id: z.string() });
export const duplicateBoardSchema = z.strictObject({ name: playNameSchema });
export const boardPatchSchema = z.strictObject({ archived: z.boolean() });

/** A board as its page needs it, with what the reader may do there. */
export const boardSchema = z.object({
  id: z.string(),
  staffId: z.string(),
  staffName: z.string(),
  name: z.string(),
  archivedAt: z.iso.datetime().nullable(),
  createdAt: z.iso.datetime(),
  member: z.object({ id: z.string(), name: z.string(), role: roleSchema, group: groupSchema }),
  mayEdit: z.boolean(),
});
export type Board = z.infer<typeof boardSchema>;

/** A member who edits only where he is let in, and whether he is let in here. */
export const letInMemberSchema = z.object({
  memberId: z.string(),
  name: z.string(),
  letIn: z.boolean(),
});
export const letInSchema = z.strictObject({ memberId: z.string(), letIn: z.boolean() });

export const findingHistorySchema = z.object({
  id: z.string(),
  findingId: z.string(),
  kind: z.string(),
  severity: z.string(),
  says: z.string(),
  authors: z.array(z.object({ what: z.string(), name: z.string() })),
  openedAt: z.iso.datetime(),
  closedAt: z.iso.datetime().nullable(),
});
