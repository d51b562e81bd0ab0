import { boardPlaySchema } from '@stemline/board/board-play';
import { plainText } from '@stemline/football/plain-text';
import { z } from 'zod';

export const changeStateSchema = z.enum(['sentUp', 'signedOff', 'sentBack', 'withdrawn']);

export const sendUpSchema = z.strictObject({ message: plainText('A message', 1000) });

export const decisionSchema = z.discriminatedUnion('decision', [
  z.strictObject({
    decision: z.literal('signOff'),
    reply: plainText('A reply', 1000).default(''),
  }),
  z.strictObject({
    decision: z.literal('sendBack'),
    reply: plainText('A reply', 1000, 'Say what has to change.'),
  }),
]);

export const waiverSchema = z.strictObject({
  findingId: z.string().min(1).max(200),
  reason: plainText('A reason', 500, 'Give a reason: everybody on the staff sees it.'),
});

/** Names the finding whose waiver is taken back. */
export const waivedFindingSchema = z.object({ findingId: z.string().min(1).max(200) });

export const changesQuerySchema = z.object({ state: changeStateSchema.optional() });

export const changeSchema = z.object({
  id: z.string(),
  boardId: z.string(),
  boardName: z.string(),
  state: changeStateSchema,
  message: z.string(),
  /** What changed since the last signed-off version, in words. */
  words: z.array(z.string()),
  /** Findings that stood when it was sent. */
  findings: z.array(
    z.object({ id: z.string(), severity: z.string(), says: z.string(), waived: z.boolean() }),
  ),
  sentBy: z.string(),
  /** Who may withdraw it. */
  sentByMemberId: z.string(),
  sentAt: z.iso.datetime(),
  decidedBy: z.string().nullable(),
  decidedAt: z.iso.datetime().nullable(),
  reply: z.string(),
  version: z.number().int().nullable(),
  /** It waits, and the working board says something else by now. */
  boardMovedOn: z.boolean(),
  /** Threads about the play that nobody has resolved by now. */
  openComments: z.number().int(),
});
export type Change = z.infer<typeof changeSchema>;

/** The play exactly as it was sent up. */
export const sentPlaySchema = z.object({ content: boardPlaySchema });

export const versionLineSchema = z.object({
  id: z.string(),
  number: z.number().int(),
  hash: z.string(),
  author: z.string(),
  signer: z.string(),
  signedAt: z.iso.datetime(),
});
export const versionSchema = versionLineSchema.extend({
  boardId: z.string(),
  boardName: z.string(),
  content: boardPlaySchema,
});
export type Version = z.infer<typeof versionSchema>;
