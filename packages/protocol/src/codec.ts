import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import type { z } from 'zod';
import {
  eventSchema,
  findingsSchema,
  frame,
  helloSchema,
  type RoomMessage,
  refusedSchema,
} from './message.ts';

/**
 * One frame: the number of its kind as a varuint, then its body. A body is JSON as a varstring;
 * that of `saved` is the state vector as a varuint8array and the count as a varuint. Nothing may
 * follow it.
 */
export function encodeMessage(message: RoomMessage): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, frame[message.type]);
  if (message.type === 'saved') {
    encoding.writeVarUint8Array(encoder, message.stateVector);
    encoding.writeVarUint(encoder, message.updates);
  } else {
    encoding.writeVarString(encoder, JSON.stringify(bodyOf(message)));
  }
  return encoding.toUint8Array(encoder);
}

function bodyOf(message: Exclude<RoomMessage, { type: 'saved' }>): unknown {
  switch (message.type) {
    case 'hello':
      return message.hello;
    case 'refused':
      return message.refused;
    case 'findings':
      return { findings: message.findings };
    case 'event':
      return message.event;
  }
}

export type Decoded =
  | { readonly ok: true; readonly message: RoomMessage }
  /** `otherKind`: a well-formed start, but of a kind that is not the server's own (sync, awareness, a later one). */
  | { readonly ok: false; readonly code: 'malformed' | 'otherKind'; readonly why: string };

/** Reads a frame of the server. Whatever the bytes are, it answers and never throws. */
export function decodeMessage(bytes: Uint8Array): Decoded {
  try {
    return decode(decoding.createDecoder(bytes));
  } catch (error) {
    // lib0 and JSON tell bad bytes by throwing; the caller is told in words.
    return malformed(error instanceof Error ? error.message : 'the frame cannot be read');
  }
}

const malformed = (why: string): Decoded => ({ ok: false, code: 'malformed', why });

function decode(decoder: decoding.Decoder): Decoded {
  const kind = decoding.readVarUint(decoder);
  switch (kind) {
    case frame.saved: {
      const stateVector = decoding.readVarUint8Array(decoder).slice();
      const updates = decoding.readVarUint(decoder);
      return ended(decoder, { type: 'saved', stateVector, updates });
    }
    case frame.hello:
      return body(decoder, helloSchema, (hello) => ({ type: 'hello', hello }));
    case frame.refused:
      return body(decoder, refusedSchema, (refused) => ({ type: 'refused', refused }));
    case frame.findings:
      return body(decoder, findingsSchema, ({ findings }) => ({ type: 'findings', findings }));
    case frame.event:
      return body(decoder, eventSchema, (event) => ({ type: 'event', event }));
    default:
      return { ok: false, code: 'otherKind', why: `frames of kind ${kind} are not the room's own` };
  }
}

function body<S extends z.ZodType>(
  decoder: decoding.Decoder,
  schema: S,
  wrap: (value: z.infer<S>) => RoomMessage,
): Decoded {
  const parsed = schema.safeParse(JSON.parse(decoding.readVarString(decoder)));
  if (parsed.success) return ended(decoder, wrap(parsed.data));
  const issue = parsed.error.issues[0];
  return malformed(
    `${(issue?.path ?? []).map(String).join('.')}: ${issue?.message ?? 'not as declared'}`,
  );
}

function ended(decoder: decoding.Decoder, message: RoomMessage): Decoded {
  return decoding.hasContent(decoder)
    ? malformed('there are bytes after the end')
    : { ok: true, message };
}
