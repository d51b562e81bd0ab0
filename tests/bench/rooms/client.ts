import { frame } from '@stemline/protocol/message';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { WebSocket } from 'ws';
import { messageYjsSyncStep1, messageYjsSyncStep2, messageYjsUpdate } from 'y-protocols/sync';
import * as Y from 'yjs';

/**
 * How a side is spoken to. `sync`: y-websocket's protocol. `addressed`: the same with the document's
 * name before every frame and a sign-in first. `blind`: nobody answers; the board is there already.
 */
export type Dialect = 'sync' | 'addressed' | 'blind';

export interface ClientOptions {
  dialect: Dialect;
  url: string;
  room: string;
  cookie: string | null;
  /** The board, for a side that does not bring it. */
  base: Uint8Array | null;
  onEdits?: (seen: Y.Transaction) => void;
  /** Somebody's presence, by its running number. */
  onPresence?: (from: string, number: number) => void;
  onSaved?: (stateVector: Uint8Array) => void;
}

/** hocuspocus' number for an answer to a sync; 0 is its sync as everybody's. */
const syncReply = 4;
/** Marks what came over the wire. */
const remote = { remote: true };

/** A client as lean as one can be with a real document: what is measured is the server. */
export class Client {
  readonly ydoc = new Y.Doc();
  readonly socket: WebSocket;
  /** Resolves once the board is there. */
  readonly synced: Promise<void>;
  /** Bytes of changing sync frames that came after the first sync. */
  changeBytes = 0;
  readonly #options: ClientOptions;
  readonly #prefix: Uint8Array;
  #isSynced = false;
  #clock = 0;
  #arrived: () => void = () => undefined;

  constructor(options: ClientOptions) {
    this.#options = options;
    const { dialect, url, room, cookie, base } = options;
    this.#prefix = dialect === 'addressed' ? addressOf(room) : new Uint8Array();
    if (base && dialect === 'blind') Y.applyUpdate(this.ydoc, base, remote);
    this.socket = new WebSocket(`${url}/${room}`, {
      headers: cookie ? { cookie } : {},
      perMessageDeflate: false,
    });
    this.socket.binaryType = 'arraybuffer';
    this.synced = new Promise((resolve, reject) => {
      this.#arrived = resolve;
      this.socket.once('close', (code) =>
        reject(new Error(`closed with ${code} before it synced`)),
      );
      this.socket.once('error', reject);
    });
    // Whoever waits for it hears of it; a client that is only left open need not be waited for.
    this.synced.catch(() => undefined);
    this.socket.once('open', () => this.#begin());
    this.socket.on('message', (data) => this.#hear(new Uint8Array(data as ArrayBuffer)));
    this.ydoc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== remote && this.#isSynced) this.#send(syncFrame(messageYjsUpdate, update));
    });
    if (options.onEdits) this.ydoc.on('afterTransaction', options.onEdits);
  }

  /** A cursor on its way; the number says which. */
  present(number: number): void {
    this.#clock += 1;
    const state = { cursor: [number % 53, number % 29], selection: 'spots/H', n: number };
    const body = encoding.createEncoder();
    encoding.writeVarUint(body, 1);
    encoding.writeVarUint(body, this.ydoc.clientID);
    encoding.writeVarUint(body, this.#clock);
    encoding.writeVarString(body, JSON.stringify(state));
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, frame.awareness);
    encoding.writeVarUint8Array(encoder, encoding.toUint8Array(body));
    this.#send(encoding.toUint8Array(encoder));
  }

  close(): void {
    this.socket.terminate();
    this.ydoc.destroy();
  }

  #begin(): void {
    const { dialect } = this.#options;
    if (dialect === 'blind') {
      this.#finish();
      return;
    }
    if (dialect === 'addressed') {
      const encoder = encoding.createEncoder();
      encoding.writeVarUint(encoder, frame.auth);
      encoding.writeVarUint(encoder, 0);
      encoding.writeVarString(encoder, '');
      this.#send(encoding.toUint8Array(encoder));
    }
    this.#send(syncFrame(messageYjsSyncStep1, Y.encodeStateVector(this.ydoc)));
  }

  #finish(): void {
    this.#isSynced = true;
    this.#arrived();
  }

  #send(bytes: Uint8Array): void {
    if (this.socket.readyState !== WebSocket.OPEN) return;
    if (this.#prefix.byteLength === 0) {
      this.socket.send(bytes);
      return;
    }
    const whole = new Uint8Array(this.#prefix.byteLength + bytes.byteLength);
    whole.set(this.#prefix);
    whole.set(bytes, this.#prefix.byteLength);
    this.socket.send(whole);
  }

  #hear(bytes: Uint8Array): void {
    const decoder = decoding.createDecoder(bytes);
    if (this.#options.dialect === 'addressed') decoding.readVarString(decoder);
    switch (decoding.readVarUint(decoder)) {
      case frame.sync:
      case syncReply:
        this.#sync(decoder, bytes.byteLength);
        break;
      case frame.awareness:
        if (this.#options.onPresence) this.#hearPresence(decoding.readVarUint8Array(decoder));
        break;
      case frame.saved:
        this.#options.onSaved?.(decoding.readVarUint8Array(decoder));
        break;
    }
  }

  #sync(decoder: decoding.Decoder, size: number): void {
    const step = decoding.readVarUint(decoder);
    const payload = decoding.readVarUint8Array(decoder);
    if (step === messageYjsSyncStep1) {
      const { dialect } = this.#options;
      if (dialect !== 'blind')
        this.#send(syncFrame(messageYjsSyncStep2, Y.encodeStateAsUpdate(this.ydoc, payload)));
      return;
    }
    if (this.#isSynced) this.changeBytes += size;
    Y.applyUpdate(this.ydoc, payload, remote);
    if (step === messageYjsSyncStep2 && !this.#isSynced) this.#finish();
  }

  #hearPresence(bytes: Uint8Array): void {
    const decoder = decoding.createDecoder(bytes);
    for (let left = decoding.readVarUint(decoder); left > 0; left--) {
      const id = decoding.readVarUint(decoder);
      decoding.readVarUint(decoder);
      const state = JSON.parse(decoding.readVarString(decoder)) as { n?: number } | null;
      if (id !== this.ydoc.clientID && typeof state?.n === 'number')
        this.#options.onPresence?.(String(id), state.n);
    }
  }
}

function syncFrame(step: number, payload: Uint8Array): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, frame.sync);
  encoding.writeVarUint(encoder, step);
  encoding.writeVarUint8Array(encoder, payload);
  return encoding.toUint8Array(encoder);
}

function addressOf(room: string): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarString(encoder, room);
  return encoding.toUint8Array(encoder);
}
