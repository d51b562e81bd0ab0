import { setTimeout as pause } from 'node:timers/promises';
import { BoardDocument } from '@stemline/board/document';
import { newDocument } from '@stemline/board/schema';
import { decodeMessage } from '@stemline/protocol/codec';
import {
  frame,
  type Hello,
  type LiveFinding,
  type Refused,
  type RoomEvent,
} from '@stemline/protocol/message';
import type * as decoding from 'lib0/decoding';
import { WebSocket } from 'ws';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';

// Every provider listens for the end of the process.
process.setMaxListeners(0);

/** Between two looks, milliseconds: what comes at once is seen at once, what takes long is not looked at all the time. */
const firstPause = 2;
const longestPause = 25;

/** Looks until `holds` gives something true and throws nothing; fails with `what` after `patience`. */
export async function until<T>(
  what: string,
  holds: () => T | undefined | null | false,
  patience = 10_000,
): Promise<T> {
  const deadline = performance.now() + patience;
  let why: unknown;
  for (let ms = firstPause; ; ms = Math.min(ms * 1.3, longestPause)) {
    try {
      const value = holds();
      if (value !== undefined && value !== null && value !== false) return value;
      why = undefined;
    } catch (error) {
      why = error;
    }
    if (performance.now() > deadline) throw new Error(`not yet: ${what}`, { cause: why });
    await pause(ms);
  }
}

/** ws with a cookie, as a browser would send it. */
export const socketWith = (headers: Record<string, string>): typeof globalThis.WebSocket =>
  class extends WebSocket {
    constructor(url: string | URL, protocols?: string | string[]) {
      super(url, protocols, { headers });
    }
  } as unknown as typeof globalThis.WebSocket;

/**
 * A coach with a plain y-websocket provider. Handlers for the room's own messages are added, as the
 * provider lets one, to see what it was told; nothing else of it is changed.
 */
export class Coach {
  readonly ydoc: Y.Doc;
  readonly board: BoardDocument;
  readonly provider: WebsocketProvider;
  readonly hellos: Hello[] = [];
  readonly saved: { stateVector: Uint8Array; updates: number }[] = [];
  readonly refused: Refused[] = [];
  readonly events: RoomEvent[] = [];
  findings: readonly LiveFinding[] | null = null;
  /** Set once the provider gives up for good. */
  closed: { code: number; reason: string } | null = null;
  /** Codes of every close so far. */
  readonly closes: number[] = [];
  /** Changing sync frames sent since the last connection began. */
  sent = 0;

  constructor(roomsUrl: string, boardId: string, cookie: string, ydoc = newDocument()) {
    this.ydoc = ydoc;
    this.board = new BoardDocument(ydoc);
    this.provider = new WebsocketProvider(roomsUrl, boardId, ydoc, {
      connect: false,
      disableBc: true,
      WebSocketPolyfill: socketWith({ cookie }),
    });
    for (const kind of [frame.hello, frame.saved, frame.refused, frame.findings, frame.event]) {
      this.provider.messageHandlers[kind] = (_encoder, decoder) => this.#hear(decoder);
    }
    this.provider.on('closed', (closed) => {
      this.closed = closed;
    });
    this.provider.on('connection-close', (event) => {
      if (event) this.closes.push(event.code);
    });
    this.provider.connect();
  }

  get synced(): boolean {
    return this.provider.synced;
  }

  /** Everything this coach has written is durable, deletions included. */
  get isSaved(): boolean {
    const last = this.saved.at(-1);
    if (!last || !this.provider.wsconnected) return false;
    const durable = Y.decodeStateVector(last.stateVector);
    const own = Y.decodeStateVector(Y.encodeStateVector(this.ydoc));
    return [...own].every(([client, clock]) => (durable.get(client) ?? 0) >= clock);
  }

  get mayEdit(): boolean | undefined {
    return this.hellos.at(-1)?.mayEdit;
  }

  leave(): void {
    this.provider.destroy();
    this.provider.awareness.destroy();
    this.ydoc.destroy();
  }

  #hear(decoder: decoding.Decoder): void {
    const decoded = decodeMessage(decoder.arr);
    if (!decoded.ok) throw new Error(decoded.why);
    const { message } = decoded;
    switch (message.type) {
      case 'hello':
        this.hellos.push(message.hello);
        break;
      case 'saved':
        this.saved.push(message);
        break;
      case 'refused':
        this.refused.push(message.refused);
        break;
      case 'findings':
        this.findings = message.findings;
        break;
      case 'event':
        this.events.push(message.event);
        break;
    }
  }
}
