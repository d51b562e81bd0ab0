import { refusalCodeSchema } from '@stemline/board/refusal';
import { elementSchema, findingSchema } from '@stemline/read-rules/finding';
import { z } from 'zod';
import { groupSchema, roleSchema } from './roles.ts';

/**
 * Numbers of the frames of a room. 0 to 3 are y-protocols' own (sync, awareness, auth, query
 * awareness), so a plain y-websocket client can sync; the rest only the server sends.
 */
export const frame = {
  sync: 0,
  awareness: 1,
  auth: 2,
  queryAwareness: 3,
  hello: 100,
  saved: 101,
  refused: 102,
  findings: 103,
  event: 104,
} as const;

/** The shape of the board's document this build speaks. */
export { documentVersion } from '@stemline/board/migrations';

/** First word of the server on a new connection. */
export const helloSchema = z.strictObject({
  documentVersion: z.number().int(),
  member: z.strictObject({
    id: z.string(),
    name: z.string(),
    role: roleSchema,
    group: groupSchema,
  }),
  mayEdit: z.boolean(),
  /** Positions he may edit; null means all of them. Empty with mayEdit false. */
  positions: z.array(z.string()).nullable(),
});
export type Hello = z.infer<typeof helloSchema>;

/** Why an update was not taken; the room then closes this connection. */
export const refusedSchema = z.strictObject({
  code: refusalCodeSchema,
  why: z.string(),
  /** What to do about it. */
  mend: z.string(),
  /** Names of the elements it would have changed, as far as they could be told. */
  elements: z.array(z.string()),
});
export type Refused = z.infer<typeof refusedSchema>;

/** A finding with its history: who last set what it is about, since when it stands, whether it is waived. */
export const liveFindingSchema = z.strictObject({
  finding: findingSchema,
  openedAt: z.iso.datetime(),
  authors: z.array(
    z.strictObject({
      element: elementSchema,
      /** What the element is called on the card or the board. */
      what: z.string(),
      name: z.string(),
      at: z.iso.datetime(),
    }),
  ),
  waived: z.strictObject({ by: z.string(), reason: z.string(), at: z.iso.datetime() }).nullable(),
});
export type LiveFinding = z.infer<typeof liveFindingSchema>;

export const findingsSchema = z.strictObject({ findings: z.array(liveFindingSchema) });

/** Something beside the document changed; the browser reads the resource again. */
export const eventSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('comments') }),
  z.strictObject({ kind: z.literal('changes') }),
  z.strictObject({ kind: z.literal('looks') }),
  z.strictObject({ kind: z.literal('access') }),
  /** The store cannot be reached, or does not answer (`behind`): edits are kept and tried again; nothing new is saved until it can. */
  z.strictObject({ kind: z.literal('saving'), behind: z.boolean() }),
  /** Other servers are not heard (`away`): who is on the board there is not shown, and edits from there come late. */
  z.strictObject({ kind: z.literal('servers'), away: z.boolean() }),
]);
export type RoomEvent = z.infer<typeof eventSchema>;

/** Everything the server says beyond y-protocols. */
export type RoomMessage =
  | { type: 'hello'; hello: Hello }
  /**
   * Every struct that `stateVector` covers is durable. A deletion alone moves no state vector, so
   * `updates` says how many sync frames with a change (step 2 or update) of this one connection
   * are durable, in the order it sent them.
   */
  | { type: 'saved'; stateVector: Uint8Array; updates: number }
  | { type: 'refused'; refused: Refused }
  | { type: 'findings'; findings: readonly LiveFinding[] }
  | { type: 'event'; event: RoomEvent };

/** What a member shows of himself while he works; the server overwrites `member`. */
export const presenceSchema = z.strictObject({
  member: z.strictObject({ id: z.string(), name: z.string(), color: z.string() }),
  /** Cursor on the board, yards; null when he is elsewhere. */
  cursor: z.tuple([z.number(), z.number()]).nullable(),
  /** Element key of what he has selected (board/element-key). */
  selected: z.string().max(120).nullable(),
  /** The way of a drag that has not ended: where each man under the hand is now. */
  drag: z
    .array(z.strictObject({ player: z.string().max(40), at: z.tuple([z.number(), z.number()]) }))
    .max(22)
    .nullable(),
});
export type Presence = z.infer<typeof presenceSchema>;
