import type { Duplex } from 'node:stream';
import type { CloseCode } from '@stemline/protocol/close';
import type { Pass } from './access.ts';
import { heartbeatFrame } from './frames.ts';
import type { Heartbeats } from './heartbeats.ts';
import type { Holding } from './held-bytes.ts';
import type { RoomLimits } from './limits.ts';
import type { RoomMetrics } from './metrics.ts';
import { type Outbox, Outlet } from './outbox.ts';
import { type Packed, packWithPing } from './packed.ts';
import { type Refusal, refusals } from './refusal.ts';
import type { Sending, Shares } from './shares.ts';
import type { RoomSocket, SocketOwner } from './socket.ts';

/** Who hears of what a client sends, once its board is loaded. */
export interface Listener {
  receive(connection: Connection, bytes: Uint8Array): void;
  left(connection: Connection): void;
  /** Bytes that it sent, and that wait for something else to come first. */
  heldOf(connection: Connection): number;
}

/** What all connections of a server share. */
export interface ConnectionDeps {
  limits: RoomLimits;
  metrics: RoomMetrics;
  outbox: Outbox;
  heartbeats: Heartbeats;
  shares: Shares;
  /** At every heartbeat of one that is alive. */
  onHeartbeat: (connection: Connection) => void;
  onEnded: (connection: Connection) => void;
}

/** Bytes that may wait before presence, which the next one outdates, is left out. */
const lagBytes = 65_536;
/** What a client sends this many updates ahead of the store waits, and no more is read of it (R83). */
const maxUnsavedUpdates = 64;
/** Bytes of frames that may wait: what a socket brings after it was told to stop is far less. */
const maxWaitingBytes = 4_194_304;
/** Frames that are read on of a chunk while nothing is taken of it: a ping may be among them. */
const maxKeptOfHeld = 16;
/** A message may take so many heartbeats: pongs come between its pieces. */
const maxBeatsOfMessage = 4;
const heartbeat = packWithPing(heartbeatFrame);

/**
 * One socket in one room: what it may do, what waits for it, how it ends. There are thousands, so nothing
 * is kept for each that all can share, no list before there is something in it, nor anything of the handshake.
 */
export class Connection implements SocketOwner, Sending, Holding {
  pass: Pass;
  /** Of its handshake: what the log knows this connection by. */
  readonly requestId: string;
  readonly #socket: RoomSocket;
  readonly #outlet: Outlet;
  readonly #deps: ConnectionDeps;
  #onEnd: (() => void)[] | null = null;
  #listener: Listener | null = null;
  /** Frames in order, and ahead of them what has to be done with earlier ones. */
  #waiting: (Uint8Array | (() => void))[] | null = null;
  #waitingBytes = 0;
  #holds = 0;
  #closed = false;
  /** Changing sync frames accepted, and how many of them are durable. */
  #received = 0;
  #durable = 0;
  #answerBytes = 0;
  #nextAnswer: (() => Packed) | null = null;
  #heard = true;
  /** Heartbeats since which one message goes on. */
  #unfinishedFor = 0;

  /** `line`: what the socket writes to. */
  constructor(
    socket: RoomSocket,
    line: Duplex,
    pass: Pass,
    requestId: string,
    deps: ConnectionDeps,
  ) {
    this.pass = pass;
    this.requestId = requestId;
    this.#socket = socket;
    this.#outlet = new Outlet(line, deps.outbox);
    this.#deps = deps;
    socket.belongTo(this);
    deps.heartbeats.add(this);
  }

  /** How many of the client's changing sync frames are durable. */
  get durable(): number {
    return this.#durable;
  }

  get closed(): boolean {
    return this.#closed;
  }

  /** Gives back how not to be told. */
  onEnd(told: () => void): () => void {
    if (this.#socket.readyState === this.#socket.CLOSED) told();
    else this.#onEnd = [...(this.#onEnd ?? []), told];
    return () => {
      this.#onEnd = this.#onEnd?.filter((one) => one !== told) ?? null;
    };
  }

  /** Keeps what comes from now on, in order, until released; holds may overlap. */
  hold(): () => void {
    this.#holds += 1;
    this.#direct();
    let held = true;
    return () => {
      if (!held) return;
      held = false;
      this.#holds -= 1;
      this.#handOver();
      this.#direct();
    };
  }

  /** Does something with a frame that came before all that waits: now, or as soon as nothing is held. */
  next(work: () => void): void {
    if (this.#closed) return;
    if (this.isBusy) this.#waiting = [work, ...(this.#waiting ?? [])];
    else work();
  }

  /** Hands over the frames that came meanwhile, in order, and every later one. */
  listen(listener: Listener): void {
    this.#listener = listener;
    this.#handOver();
  }

  /** Asked whether it is still there (R82). */
  beat(): void {
    // A paused socket hears no pong; it is our own doing.
    if (!this.#heard && !this.#socket.isPaused) {
      if (!this.#closed) this.#deps.metrics.ended('silent');
      this.#socket.terminate();
      return;
    }
    this.#heard = false;
    // What lies in a paused socket waits for us.
    const goesOn = this.#socket.isWithinMessage && !this.#socket.isPaused;
    this.#unfinishedFor = goesOn ? this.#unfinishedFor + 1 : 0;
    if (this.#unfinishedFor > maxBeatsOfMessage) {
      this.refuse('unfinished');
      return;
    }
    this.send(heartbeat);
    this.#deps.onHeartbeat(this);
  }

  /** Goes out at the end of the turn, in order. */
  send(frame: Packed): void {
    if (!this.#isOpen) return;
    if (this.#lag > this.#deps.limits.maxBufferedBytes) {
      this.refuse('slowReader');
      return;
    }
    this.#deps.metrics.delivered += 1;
    this.#outlet.write(frame);
  }

  /** Presence: left out for a reader who lags, since the next one says it again. */
  sendPassing(frame: Packed): void {
    if (this.#lag <= lagBytes) this.send(frame);
  }

  /**
   * The answer to this client's own sync, which may be a whole board, does not count as lag. One is
   * on its way at a time; of those asked for meanwhile only the last is made. False: it has to wait.
   */
  answer(make: () => Packed): boolean {
    if (!this.#isOpen) return false;
    if (this.#answerBytes > 0) {
      this.#nextAnswer = make;
      return false;
    }
    const frame = make();
    this.#answerBytes = frame.byteLength;
    this.#deps.metrics.delivered += 1;
    this.#outlet.writeNow(frame, () => {
      this.#answerBytes = 0;
      const next = this.#nextAnswer;
      this.#nextAnswer = null;
      if (next) this.answer(next);
    });
    return true;
  }

  /** So many changing frames of this client are accepted, or durable. */
  count({ received = 0, durable = 0 }): void {
    this.#received += received;
    this.#durable += durable;
    this.#direct();
    // In a turn of their own: others have written meanwhile, and somebody is told of this just now.
    if (this.#waiting && !this.isBusy) setImmediate(() => this.#handOver());
  }

  refuse(refusal: Refusal): void {
    if (!this.#closed) this.#deps.metrics.ended(refusal);
    this.close(refusals[refusal].close, refusals[refusal].title);
  }

  /** Closes, and resolves when the socket is gone. */
  gone(refusal: Refusal): Promise<void> {
    return new Promise((resolve) => {
      this.onEnd(resolve);
      this.refuse(refusal);
    });
  }

  /** Nothing is read or sent after this. */
  close(code: CloseCode, reason: string): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#waiting = null;
    this.#waitingBytes = 0;
    this.#nextAnswer = null;
    // A paused socket would never read the client's answer to the close.
    if (this.#socket.isPaused) this.#deps.shares.goesOnLater(this);
    this.#socket.close(code, reason);
  }

  heard(data: ArrayBuffer, isBinary: boolean): void {
    this.#heard = true;
    this.#unfinishedFor = 0;
    if (this.#closed) {
      this.#spend();
      return;
    }
    if (!isBinary) {
      this.refuse('malformed');
      return;
    }
    const bytes = new Uint8Array(data);
    const isTaken = !this.isBusy && this.#deps.shares.takes(this);
    if (isTaken && this.#listener && !this.#waiting) this.#listener.receive(this, bytes);
    else this.#keep(bytes);
  }

  /** Something came of which nothing is kept. */
  #spend(): void {
    if (!this.#deps.shares.takes(this)) this.#socket.stop();
  }

  #keep(bytes: Uint8Array): void {
    this.#waiting ??= [];
    this.#waiting.push(bytes);
    this.#waitingBytes += bytes.byteLength;
    if (this.#waitingBytes > maxWaitingBytes) this.refuse('tooMany');
    else this.#direct();
  }

  get heldBytes(): number {
    const inRoom = this.#listener?.heldOf(this) ?? 0;
    return this.#waitingBytes + this.#socket.heldBytes + inRoom;
  }

  holdsTooMuch(): void {
    this.refuse('tooMany');
    // Or it would go on to hold as much as one may until it is gone.
    this.#socket.stop();
  }

  /** Nothing of it is taken for now. */
  get isBusy(): boolean {
    return (
      this.#holds > 0 ||
      this.#received - this.#durable >= maxUnsavedUpdates ||
      this.#deps.shares.waits(this)
    );
  }

  /** It is held, too far ahead of the store, had its share of this turn, or much of it waits for the room (R21, R83, R113). */
  get #hasEnough(): boolean {
    if (this.#closed) return this.#deps.shares.waits(this);
    const waiting = this.#waiting?.length ?? 0;
    return this.isBusy || waiting >= this.#deps.limits.maxWaitingFrames;
  }

  get #isOpen(): boolean {
    return !this.#closed && this.#socket.readyState === this.#socket.OPEN;
  }

  get #lag(): number {
    return this.#outlet.lag - this.#answerBytes;
  }

  /** Stops reading, or reads on: in a turn of its own, whatever brought it about. */
  #direct(): void {
    if (this.#closed) return;
    if (!this.#hasEnough) {
      if (this.#socket.isPaused) this.#deps.shares.goesOnLater(this);
      return;
    }
    const isMuch = (this.#waiting?.length ?? 0) >= maxKeptOfHeld;
    if (isMuch || this.#deps.shares.waits(this)) this.#socket.stop();
    else this.#socket.pause();
  }

  goOn(): void {
    this.#handOver();
    if (this.#hasEnough) return;
    // What was read already comes first, and may be enough again.
    this.#socket.readBuffered();
    if (!this.#hasEnough) this.#socket.resume();
  }

  floods(): void {
    if (this.#closed) this.#socket.terminate();
    else this.refuse('tooMany');
  }

  #handOver(): void {
    const waiting = this.#waiting;
    if (!waiting || !this.#listener || this.isBusy) return;
    // Whatever handing over brings about finds nothing to hand over.
    this.#waiting = null;
    let next = 0;
    // What is handed over may make the listener ask for a pause, or close.
    while (next < waiting.length && !this.isBusy && !this.#closed) {
      const first = waiting[next] as Uint8Array | (() => void);
      next += 1;
      if (typeof first === 'function') {
        first();
        continue;
      }
      if (!this.#deps.shares.takes(this)) {
        next -= 1;
        break;
      }
      this.#waitingBytes -= first.byteLength;
      this.#listener.receive(this, first);
    }
    if (this.#closed) return;
    if (next < waiting.length) this.#waiting = waiting.slice(next);
    this.#direct();
  }

  controlled(): void {
    this.#heard = true;
    this.#spend();
  }

  closes(): void {
    this.#outlet.flush();
  }

  ended(): void {
    this.#closed = true;
    this.#waiting = null;
    this.#deps.heartbeats.remove(this);
    this.#deps.shares.ended(this);
    this.#listener?.left(this);
    this.#deps.onEnded(this);
    const onEnd = this.#onEnd ?? [];
    this.#onEnd = null;
    for (const told of onEnd) told();
  }
}
