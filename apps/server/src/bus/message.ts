import { eventSchema } from '@stemline/protocol/message';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { z } from 'zod';

const authorSchema = z.strictObject({
  memberId: z.string().nullable(),
  name: z.string(),
  at: z.iso.datetime(),
});

/** Clients read it, and would stumble over anything else. */
function isObject(json: string): boolean {
  try {
    const value: unknown = JSON.parse(json);
    return typeof value === 'object' && value !== null && !Array.isArray(value);
  } catch {
    return false;
  }
}

/** Somebody's presence; `json` null: he left. */
const presenceSchema = z.strictObject({
  clientId: z.number().int(),
  clock: z.number().int(),
  member: z.string(),
  json: z.string().refine(isObject).nullable(),
});
export type PresenceElsewhere = z.infer<typeof presenceSchema>;

/** What an access change is about; at least one must be named. */
const accessChangeSchema = z.strictObject({
  userId: z.string().optional(),
  memberId: z.string().optional(),
  boardId: z.string().optional(),
  staffId: z.string().optional(),
});

export type AccessChange = z.infer<typeof accessChangeSchema>;

const messageSchema = z.discriminatedUnion('kind', [
  /** To all: this server lives; `at` is the sender's own clock. */
  z.strictObject({ kind: z.literal('beat'), at: z.number() }),
  /** To all: this server ends. */
  z.strictObject({ kind: z.literal('bye') }),
  /** To all: access changed, and is to be decided again. */
  z.strictObject({ kind: z.literal('access'), change: accessChangeSchema }),
  /** This server holds the board; `asks`: who else does says so, with presence and findings. */
  z.strictObject({ kind: z.literal('here'), asks: z.boolean() }),
  /** It does not any more. */
  z.strictObject({ kind: z.literal('left') }),
  /** A commit to the board's log. Payload: what it brought as one update; empty: read it from the store. */
  z.strictObject({
    kind: z.literal('commit'),
    base: z.number().int(),
    revision: z.number().int(),
    /** Id of its last row. */
    last: z.string().regex(/^\d+$/),
    updates: z.number().int(),
    clients: z.array(z.tuple([z.number().int(), z.string()])),
    authors: z.array(z.tuple([z.string(), authorSchema.nullable()])),
  }),
  /** This server keeps losing the race for the board's next commit, and asks for its turn. */
  z.strictObject({ kind: z.literal('waits') }),
  z.strictObject({ kind: z.literal('presence'), entries: z.array(presenceSchema) }),
  /** Client ids of all who are on the board through this server, each with the clock of what it showed last. */
  z.strictObject({
    kind: z.literal('people'),
    shown: z.array(z.tuple([z.number().int(), z.number().int()])),
  }),
  z.strictObject({ kind: z.literal('event'), event: eventSchema }),
  /** The board's findings as of this revision. Payload: the frame as clients get it; empty: as before. */
  z.strictObject({ kind: z.literal('findings'), revision: z.number().int() }),
]);
export type BusMessage = z.infer<typeof messageSchema>;

/** Raised when an older build would misread a message; what is not ours is left to the store. */
const version = 1;
const headSchema = z.tuple([z.literal(version), z.string(), messageSchema]);

/** A varstring with `[version, sender, message]` as JSON, then the payload as a varuint8array. */
export function encodeBusMessage(
  from: string,
  message: BusMessage,
  payload: Uint8Array,
): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarString(encoder, JSON.stringify([version, from, message]));
  encoding.writeVarUint8Array(encoder, payload);
  return encoding.toUint8Array(encoder);
}

type Read =
  | { ok: true; from: string; message: BusMessage; payload: Uint8Array }
  | { ok: false; why: string };

/** Whatever the bytes are, it answers and never throws. The payload is a copy. */
export function decodeBusMessage(bytes: Uint8Array): Read {
  try {
    const decoder = decoding.createDecoder(bytes);
    const head = headSchema.safeParse(JSON.parse(decoding.readVarString(decoder)));
    if (!head.success)
      return { ok: false, why: head.error.issues[0]?.message ?? 'not as declared' };
    const payload = decoding.readVarUint8Array(decoder).slice();
    const [, from, message] = head.data;
    return { ok: true, from, message, payload };
  } catch (error) {
    return { ok: false, why: error instanceof Error ? error.message : 'it cannot be read' };
  }
}
