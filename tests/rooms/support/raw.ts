import { frame } from '@stemline/protocol/message';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { WebSocket } from 'ws';
import { messageYjsSyncStep1, messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';
import * as Y from 'yjs';

/** A socket without any provider, for whatever no provider would send. */
export interface Raw {
  socket: WebSocket;
  /** Frames received so far. */
  frames: Uint8Array[];
  opened: Promise<void>;
  closed: Promise<{ code: number; reason: string }>;
  /** HTTP status and body when the handshake was answered without a socket. */
  answered: Promise<{ status: number; type: string; body: string }>;
  send(bytes: Uint8Array): void;
}

export function raw(url: string, headers: Record<string, string> = {}): Raw {
  const socket = new WebSocket(url, { headers });
  const frames: Uint8Array[] = [];
  socket.on('message', (data: Buffer) => frames.push(new Uint8Array(data)));
  socket.on('error', () => undefined);
  return {
    socket,
    frames,
    opened: new Promise((resolve) => socket.once('open', resolve)),
    closed: new Promise((resolve) => {
      socket.once('close', (code, reason) => resolve({ code, reason: reason.toString() }));
    }),
    answered: new Promise((resolve) => {
      socket.once('unexpected-response', (_request, response) => {
        let body = '';
        response.on('data', (chunk: Buffer) => {
          body += chunk.toString();
        });
        response.on('end', () => {
          resolve({
            status: response.statusCode ?? 0,
            type: response.headers['content-type'] ?? '',
            body,
          });
          socket.terminate();
        });
      });
    }),
    send: (bytes) => socket.send(bytes),
  };
}

const sync = (step: number, payload: Uint8Array): Uint8Array => {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, frame.sync);
  encoding.writeVarUint(encoder, step);
  encoding.writeVarUint8Array(encoder, payload);
  return encoding.toUint8Array(encoder);
};
export const ask = (stateVector: Uint8Array = Uint8Array.of(0)): Uint8Array =>
  sync(messageYjsSyncStep1, stateVector);
export const answer = (update: Uint8Array): Uint8Array => sync(messageYjsSyncStep2, update);
export const change = (update: Uint8Array): Uint8Array => sync(messageYjsUpdate, update);

export function presence(
  entries: readonly { id: number; clock: number; state: unknown }[],
): Uint8Array {
  const body = encoding.createEncoder();
  encoding.writeVarUint(body, entries.length);
  for (const { id, clock, state } of entries) {
    encoding.writeVarUint(body, id);
    encoding.writeVarUint(body, clock);
    encoding.writeVarString(body, JSON.stringify(state));
  }
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, frame.awareness);
  encoding.writeVarUint8Array(encoder, encoding.toUint8Array(body));
  return encoding.toUint8Array(encoder);
}

/** Applies every sync frame received to a document of its own: what this socket would show. */
export function shown(frames: readonly Uint8Array[]): Y.Doc {
  const ydoc = new Y.Doc();
  for (const bytes of frames) {
    const decoder = decoding.createDecoder(bytes);
    if (decoding.readVarUint(decoder) !== frame.sync) continue;
    if (decoding.readVarUint(decoder) === messageYjsSyncStep1) continue;
    Y.applyUpdate(ydoc, decoding.readVarUint8Array(decoder));
  }
  return ydoc;
}
