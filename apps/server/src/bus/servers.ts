import { randomBytes } from 'node:crypto';
import type { Bus, BusListener, OpenBus } from './bus.ts';
import { type BusMessage, decodeBusMessage, encodeBusMessage } from './message.ts';

interface ServersLimits {
  /** How often a server says that it lives, milliseconds. */
  serverBeatMs: number;
  /** Silence after which another server counts as gone, and the bus as away. */
  serverSilenceMs: number;
}

export interface ServersStatus {
  /** `away`: what is published does not come around in time; everything goes by the store. */
  redis: 'connected' | 'away';
  since: Date;
  /** From sending to hearing, of the last beat that came around; milliseconds. */
  lagMs: number | null;
  /** Other servers heard lately. */
  others: number;
}

interface Ears {
  /** From another server; `board` null: to all. */
  heard(from: string, board: string | null, message: BusMessage, payload: Uint8Array): void;
  /** Another server has ended, or is not heard any more. */
  gone(server: string): void;
  /** One that counted as gone is heard again: it was only silent. */
  returned(): void;
  /** The bus carries again, or does not any more. */
  turned(isUp: boolean): void;
}

export interface ServersDeps {
  open: OpenBus;
  limits: ServersLimits;
  /** A message that is none of this build's. */
  onStrange: (why: string) => void;
}

/** To everybody; boards have channels of their own, so that a server hears of those only that it holds. */
const all = 'stemline:all';
const nothing = new Uint8Array();
const boardPrefix = 'stemline:board:';
/** So long after the bus went away a line that claims to stand is made anew. */
const staleLineMs = 10_000;

/**
 * The servers that share a store, as this one hears them. Its own beats, coming around, are what tells
 * whether the bus carries: a connection may stand and carry nothing.
 */
export class Servers {
  /** The oldest server has the smallest. */
  readonly id = `${Date.now().toString(36).padStart(9, '0')}-${randomBytes(4).toString('hex')}`;
  readonly #deps: ServersDeps;
  readonly #bus: Bus;
  readonly #others = new Map<string, number>();
  /** Those that went without saying so. */
  readonly #silent = new Set<string>();
  readonly #timer: NodeJS.Timeout;
  #ears: Ears | null = null;
  /** Null: it is not known yet. */
  #isUp: boolean | null = null;
  #since = new Date();
  #lagMs: number | null = null;
  #heardSelf = performance.now();
  #ticked = performance.now();
  #reconnected = performance.now();

  constructor(deps: ServersDeps) {
    this.#deps = deps;
    const listener: BusListener = {
      heard: (channel, payload) => this.#hear(channel, payload),
    };
    this.#bus = deps.open(listener);
    void this.#bus.subscribe(all).then(() => this.#beat());
    this.#timer = setInterval(() => this.#tick(), deps.limits.serverBeatMs);
  }

  get isUp(): boolean {
    return this.#isUp === true;
  }

  /** Known to be away; before the first beat was due it is not known. */
  get isAway(): boolean {
    return this.#isUp === false;
  }

  status(): ServersStatus {
    return {
      redis: this.isUp ? 'connected' : 'away',
      since: this.#since,
      lagMs: this.#lagMs,
      others: this.#others.size,
    };
  }

  /** Who listens; what came before is not heard. */
  listen(ears: Ears): void {
    this.#ears = ears;
  }

  /** Dropped while the bus does not carry: a slow Redis must not fill this server's memory. */
  tell(board: string | null, message: BusMessage, payload: Uint8Array = nothing): void {
    if (!this.isUp) return;
    this.#bus.publish(
      board === null ? all : boardPrefix + board,
      encodeBusMessage(this.id, message, payload),
    );
  }

  /** Resolves once this board's messages are heard. */
  join(board: string): Promise<void> {
    return this.#bus.subscribe(boardPrefix + board);
  }

  leave(board: string): void {
    this.#bus.unsubscribe(boardPrefix + board);
  }

  /** Says that this server ends. */
  async close(): Promise<void> {
    clearInterval(this.#timer);
    this.tell(null, { kind: 'bye' });
    this.#ears = null;
    await this.#bus.close();
  }

  #beat(): void {
    this.#bus.publish(
      all,
      encodeBusMessage(this.id, { kind: 'beat', at: performance.now() }, nothing),
    );
  }

  #tick(): void {
    const { serverBeatMs, serverSilenceMs } = this.#deps.limits;
    const now = performance.now();
    const isLate = now - this.#ticked > serverBeatMs * 3;
    this.#ticked = now;
    this.#beat();
    // This server itself was held up: what came meanwhile has not been read yet.
    if (isLate) return;
    for (const [server, heard] of this.#others) {
      if (now - heard <= serverSilenceMs) continue;
      this.#silent.add(server);
      this.#forget(server);
    }
    if (now - this.#heardSelf <= serverSilenceMs) return;
    this.#turn(false);
    const quiet = now - Math.max(this.#heardSelf, this.#reconnected);
    if (quiet > staleLineMs) {
      this.#reconnected = now;
      this.#bus.reconnect();
    }
  }

  #hear(channel: string, payload: Uint8Array): void {
    const read = decodeBusMessage(payload);
    if (!read.ok) {
      this.#deps.onStrange(read.why);
      return;
    }
    const { from, message } = read;
    if (from === this.id) {
      if (message.kind === 'beat') this.#heardOwn(message.at);
      return;
    }
    if (message.kind === 'bye') {
      this.#silent.delete(from);
      this.#forget(from);
      return;
    }
    this.#others.set(from, performance.now());
    if (this.#silent.delete(from)) this.#ears?.returned();
    if (message.kind === 'beat') return;
    const board = channel.startsWith(boardPrefix) ? channel.slice(boardPrefix.length) : null;
    this.#ears?.heard(from, board, message, read.payload);
  }

  #heardOwn(at: number): void {
    const now = performance.now();
    this.#lagMs = now - at;
    // A beat that was long on its way says that the bus is slow, not that it carries.
    if (this.#lagMs > this.#deps.limits.serverSilenceMs) return;
    this.#heardSelf = now;
    this.#turn(true);
  }

  #turn(isUp: boolean): void {
    if (this.#isUp === isUp) return;
    this.#isUp = isUp;
    this.#since = new Date();
    this.#ears?.turned(isUp);
  }

  #forget(server: string): void {
    if (this.#others.delete(server)) this.#ears?.gone(server);
  }
}
