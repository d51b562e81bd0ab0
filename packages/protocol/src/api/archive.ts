import { boardPlaySchema } from '@stemline/board/board-play';
import { lookRecipeSchema } from '@stemline/football/shelf';
import { severitySchema } from '@stemline/read-rules/finding';
import { z } from 'zod';
import {
  maxBoardsOfStaff,
  maxCommentsOfThread,
  maxLooksOfStaff,
  maxThreadsOfBoard,
} from '../amounts.ts';
import { momentSchema } from './moment.ts';
import { changeStateSchema } from './signoff.ts';
import { staffNameSchema } from './staffs.ts';

/** Bytes of an archive that an import takes. */
export const maxArchiveBytes = 33_554_432;

const when = momentSchema({ offset: false });
/** As large as the store keeps a number. */
const maxVersion = 2_147_483_647;
const name = z.string().max(120);
const sentence = z.string().max(2000);

const archivedCommentSchema = z.strictObject({
  name,
  text: z.string().min(1).max(4000),
  createdAt: when,
  editedAt: when.nullable(),
});

const archivedThreadSchema = z.strictObject({
  /** Element key of what it is about; empty for the whole board. */
  anchor: z.string().max(120),
  createdAt: when,
  resolvedAt: when.nullable(),
  resolvedBy: name.nullable(),
  comments: z.array(archivedCommentSchema).min(1).max(maxCommentsOfThread),
});

const archivedChangeSchema = z.strictObject({
  state: changeStateSchema,
  content: boardPlaySchema,
  /** SHA-256 of the content (board/canonical); an import computes it anew and compares. */
  hash: z.string().max(64),
  words: z.array(sentence).max(5000),
  findings: z
    .array(z.strictObject({ id: z.string().max(200), severity: severitySchema, says: sentence }))
    .max(5000),
  message: sentence,
  sentBy: name,
  sentAt: when,
  decidedBy: name.nullable(),
  decidedAt: when.nullable(),
  reply: sentence,
  /** The version that its sign-off made. */
  version: z
    .strictObject({
      number: z.number().int().min(1).max(maxVersion),
      author: name,
      signer: name,
      signedAt: when,
    })
    .nullable(),
});

const archivedFindingSchema = z.strictObject({
  findingId: z.string().max(200),
  kind: z.string().max(60),
  severity: severitySchema,
  says: sentence,
  authors: z.array(z.strictObject({ what: z.string().max(200), name })).max(200),
  openedAt: when,
  closedAt: when.nullable(),
});

const archivedBoardSchema = z.strictObject({
  content: boardPlaySchema,
  createdBy: name,
  createdAt: when,
  updatedAt: when,
  archivedAt: when.nullable(),
  /** Who last set each element. */
  authors: z.array(z.strictObject({ element: z.string().max(120), name, at: when })).max(10_000),
  changes: z.array(archivedChangeSchema).max(1000),
  waivers: z
    .array(z.strictObject({ findingId: z.string().max(200), reason: sentence, name, at: when }))
    .max(5000),
  threads: z.array(archivedThreadSchema).max(maxThreadsOfBoard),
  /** Those that stand, and the latest of those that went. */
  findings: z.array(archivedFindingSchema).max(10_000),
});

/**
 * A whole staff as one JSON document: its shelf, and its boards with sign-offs, comments, waivers and
 * findings. People are in it by name only: no addresses, no accounts. Ids are those inside a play; all
 * others are made anew by an import.
 */
export const staffArchiveSchema = z
  .strictObject({
    format: z.literal('stemline-staff'),
    version: z.literal(1),
    exportedAt: when,
    staff: z.strictObject({ name: staffNameSchema }),
    looks: z.array(lookRecipeSchema).max(maxLooksOfStaff),
    boards: z.array(archivedBoardSchema).max(maxBoardsOfStaff),
    /** What was done, for the record. An import leaves it out: a trail is written by who does something. */
    audit: z.array(z.strictObject({ at: when, name, what: sentence })).max(100_000),
  })
  .superRefine(({ looks, boards }, context) => {
    const twice = twiceIn(looks.map((look) => look.name));
    if (twice !== undefined)
      context.addIssue({ code: 'custom', path: ['looks'], message: `“${twice}” is there twice` });
    for (const [n, { changes }] of boards.entries()) {
      const numbers = changes.flatMap(({ version }) => version?.number ?? []);
      const again = twiceIn(numbers);
      if (again !== undefined) {
        context.addIssue({
          code: 'custom',
          path: ['boards', n, 'changes'],
          message: `version ${again} is there twice`,
        });
      }
      if (changes.filter(({ state }) => state === 'sentUp').length > 1) {
        context.addIssue({
          code: 'custom',
          path: ['boards', n, 'changes'],
          message: 'one change at most waits for a decision',
        });
      }
      if (changes.some(({ state, version }) => (state === 'signedOff') !== (version !== null))) {
        context.addIssue({
          code: 'custom',
          path: ['boards', n, 'changes'],
          message: 'what was signed off has a version, and nothing else has',
        });
      }
    }
  });
export type StaffArchive = z.infer<typeof staffArchiveSchema>;
export type ArchivedBoard = StaffArchive['boards'][number];

const twiceIn = <T>(items: readonly T[]): T | undefined =>
  items.find((item, n) => items.indexOf(item) !== n);
