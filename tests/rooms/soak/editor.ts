import { BoardDocument } from '@stemline/board/document';
import { newDocument } from '@stemline/board/schema';
import { decodeMessage } from '@stemline/protocol/codec';
import { frame } from '@stemline/protocol/message';
import { asPlayerId } from '@stemline/testkit/plays';
import { WebSocket } from 'ws';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import { Random } from './random.ts';

// Every provider listens for the end of the process.
process.setMaxListeners(0);

/** The others are left to those who attack. */
const players = ['X', 'Y', 'Z', 'H', 'F'].map(asPlayerId);

/** An honest coach with a plain y-websocket provider, who writes without pause while told to. */
export class Editor {
  readonly ydoc = newDocument();
  readonly board = new BoardDocument(this.ydoc);
  readonly provider: WebsocketProvider;
  /** State vector of everything that he was told is saved, over all connections. */
  readonly saved = new Map<number, number>();
  /** Close codes other than those of a dead line. */
  readonly closes: number[] = [];
  refused = 0;
  written = 0;
  readonly #random: Random;
  #writing: Promise<void> | null = null;
  #stopped = true;

  constructor(rooms: string, board: string, cookie: string, seed: number) {
    this.#random = new Random(seed);
    this.provider = new WebsocketProvider(rooms, board, this.ydoc, {
      connect: false,
      disableBc: true,
      maxBackoffTime: 500,
      WebSocketPolyfill: class extends WebSocket {
        constructor(url: string | URL, protocols?: string | string[]) {
          super(url, protocols, { headers: { cookie } });
        }
      } as unknown as typeof globalThis.WebSocket,
    });
    this.provider.messageHandlers[frame.saved] = (_encoder, decoder) => {
      const decoded = decodeMessage(decoder.arr);
      if (!decoded.ok || decoded.message.type !== 'saved') throw new Error('no saved message');
      for (const [client, clock] of Y.decodeStateVector(decoded.message.stateVector))
        this.saved.set(client, Math.max(clock, this.saved.get(client) ?? 0));
    };
    for (const kind of [frame.hello, frame.findings, frame.event])
      this.provider.messageHandlers[kind] = () => undefined;
    this.provider.messageHandlers[frame.refused] = () => {
      this.refused += 1;
    };
    this.provider.on('connection-close', (event) => {
      if (event && event.code >= 4400 && event.code < 4500) this.closes.push(event.code);
    });
    this.provider.connect();
  }

  get synced(): boolean {
    return this.provider.synced;
  }

  /** Everything in his document is saved, whoever wrote it. */
  get isSaved(): boolean {
    return [...Y.decodeStateVector(Y.encodeStateVector(this.ydoc))].every(
      ([client, clock]) => (this.saved.get(client) ?? 0) >= clock,
    );
  }

  get state(): Uint8Array {
    return Y.encodeStateAsUpdate(this.ydoc);
  }

  write(): void {
    const random = this.#random;
    this.written += 1;
    const done =
      random.next() < 0.2
        ? this.board.setConcept(`Concept ${this.ydoc.clientID} ${this.written}`)
        : this.board.movePlayer(random.of(players), [
            random.between(-250, 250) / 10,
            -1 - random.between(0, 70) / 10,
          ]);
    if (!done.ok)
      throw new Error(`an honest edit is refused by its own document: ${JSON.stringify(done)}`);
  }

  /** Until `stop`; `everyMs` between two edits. */
  begin(everyMs: number): void {
    this.#stopped = false;
    this.#writing = (async () => {
      while (!this.#stopped) {
        this.write();
        await new Promise((resolve) => setTimeout(resolve, everyMs));
      }
    })();
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    await this.#writing;
  }

  leave(): void {
    this.#stopped = true;
    this.provider.destroy();
    this.provider.awareness.destroy();
    this.board.destroy();
    this.ydoc.destroy();
  }
}
