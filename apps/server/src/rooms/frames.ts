import { maxPresenceEntries } from '@stemline/protocol/limits';
import { frame } from '@stemline/protocol/message';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { messageYjsSyncStep1, messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';

/** One client's state inside a presence frame; the state is left as bytes, since most are echoes. */
export interface PresenceEntry {
  clientId: number;
  clock: number;
  /** UTF-8 of the state's JSON; `null` when the client left. */
  json: Uint8Array;
}

/** What a client may say. */
export type ClientFrame =
  | { kind: 'syncRequest'; stateVector: Uint8Array }
  /** Everything the client has beyond what the room's own sync request named. */
  | { kind: 'answer'; update: Uint8Array }
  | { kind: 'change'; update: Uint8Array }
  | { kind: 'presence'; entries: readonly PresenceEntry[] }
  | { kind: 'presenceRequest' };

/** A frame that is none of the protocol's. */
export class MalformedFrame extends Error {}

/**
 * Reads one frame. `bytes` must own its ArrayBuffer: lib0 trusts lengths within the buffer, so a
 * view into a shared one would let a client read beyond its own frame.
 */
export function readFrame(bytes: Uint8Array): ClientFrame {
  if (bytes.byteLength !== bytes.buffer.byteLength)
    throw new TypeError('the frame shares its buffer');
  try {
    const decoder = decoding.createDecoder(bytes);
    const read = readBody(decoder);
    if (decoding.hasContent(decoder))
      throw new MalformedFrame('bytes after the end of the message');
    return read;
  } catch (error) {
    if (error instanceof MalformedFrame) throw error;
    throw new MalformedFrame((error as Error).message);
  }
}

function readBody(decoder: decoding.Decoder): ClientFrame {
  const type = decoding.readVarUint(decoder);
  switch (type) {
    case frame.sync:
      return readSync(decoder);
    case frame.awareness:
      return { kind: 'presence', entries: readEntries(decoding.readVarUint8Array(decoder)) };
    case frame.queryAwareness:
      return { kind: 'presenceRequest' };
    default:
      throw new MalformedFrame(`message type ${type} is not a client's`);
  }
}

function readSync(decoder: decoding.Decoder): ClientFrame {
  const step = decoding.readVarUint(decoder);
  switch (step) {
    case messageYjsSyncStep1:
      return { kind: 'syncRequest', stateVector: decoding.readVarUint8Array(decoder) };
    case messageYjsSyncStep2:
      return { kind: 'answer', update: decoding.readVarUint8Array(decoder) };
    case messageYjsUpdate:
      return { kind: 'change', update: decoding.readVarUint8Array(decoder) };
    default:
      throw new MalformedFrame(`sync step ${step} does not exist`);
  }
}

function readEntries(bytes: Uint8Array): PresenceEntry[] {
  const decoder = decoding.createDecoder(bytes);
  const count = decoding.readVarUint(decoder);
  if (count > maxPresenceEntries) throw new MalformedFrame(`presence of ${count} in one frame`);
  const entries: PresenceEntry[] = [];
  for (let i = 0; i < count; i++) {
    entries.push({
      clientId: decoding.readVarUint(decoder),
      clock: decoding.readVarUint(decoder),
      json: decoding.readVarUint8Array(decoder),
    });
  }
  return entries;
}

const syncFrame = (step: number, payload: Uint8Array): Uint8Array => {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, frame.sync);
  encoding.writeVarUint(encoder, step);
  encoding.writeVarUint8Array(encoder, payload);
  return encoding.toUint8Array(encoder);
};

/** Asks a client for everything beyond this state vector. */
export const askFrame = (stateVector: Uint8Array): Uint8Array =>
  syncFrame(messageYjsSyncStep1, stateVector);

/** Answers a client's ask. */
export const answerFrame = (update: Uint8Array): Uint8Array =>
  syncFrame(messageYjsSyncStep2, update);

export const updateFrame = (update: Uint8Array): Uint8Array => syncFrame(messageYjsUpdate, update);

/** One client's state as it stands inside a presence frame. */
export function presenceEntry(clientId: number, clock: number, json: string): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, clientId);
  encoding.writeVarUint(encoder, clock);
  encoding.writeVarString(encoder, json);
  return encoding.toUint8Array(encoder);
}

export function presenceFrame(entries: readonly Uint8Array[]): Uint8Array {
  const body = encoding.createEncoder();
  encoding.writeVarUint(body, entries.length);
  for (const entry of entries) encoding.writeUint8Array(body, entry);
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, frame.awareness);
  encoding.writeVarUint8Array(encoder, encoding.toUint8Array(body));
  return encoding.toUint8Array(encoder);
}

/** Presence of nobody: means nothing to a client, and tells it that the line is alive. */
export const heartbeatFrame: Uint8Array = presenceFrame([]);
