import { decodeMessage } from '@stemline/protocol/codec';
import type { RoomEvent } from '@stemline/protocol/message';
import type { BusMessage, PresenceElsewhere } from '../../bus/message.ts';
import type { Servers } from '../../bus/servers.ts';
import type { Commit } from '../board-state.ts';
import { commitFrom, commitMessage } from './commit-message.ts';

/** Clients are given it as it is. */
function isFindings(frame: Uint8Array): boolean {
  const read = decodeMessage(frame);
  return read.ok && read.message.type === 'findings';
}

const nothing: Uint8Array = new Uint8Array();
/** Who holds the board has answered by then, unless the bus counts as away; milliseconds. */
const answeredMs = 6_000;

/** What a room does with what its peers say. */
export interface PeersListener {
  committed(commit: Commit): void;
  /** There is, or may be, something newer in the store. */
  behind(): void;
  /** Another server's commits of this board come too late again and again. */
  waits(server: { isOlder: boolean }): void;
  present(server: string, entries: readonly PresenceElsewhere[]): void;
  /** All who are on the board there, by client id with the clock of what each showed last; false: of some that is not known here. */
  people(server: string, shown: ReadonlyMap<number, number>): boolean;
  happened(event: RoomEvent): void;
  /** The findings of this revision as a frame for clients; null: the same as before. */
  found(frame: Uint8Array | null, revision: number): void;
  /** Another server does not know yet who is here and what is found. */
  asked(): void;
  /** Another server holds the board no more: nobody is on it there. */
  gone(server: string): void;
  /** From now on this room checks the rules for all. */
  leads(): void;
}

/** The rooms of one board on other servers, as this server's room knows them. */
export class Peers {
  readonly #board: string;
  readonly #servers: Servers;
  readonly #listener: PeersListener;
  readonly #onClose: () => void;
  /** Servers that hold the board besides this one. */
  readonly #holders = new Set<string>();
  /** Presence of this turn by client id, told together at its end. */
  readonly #news = new Map<number, PresenceElsewhere>();
  #askedAt = 0;
  #flush: NodeJS.Immediate | null = null;
  #isClosed = false;

  constructor(board: string, servers: Servers, listener: PeersListener, onClose: () => void) {
    this.#board = board;
    this.#servers = servers;
    this.#listener = listener;
    this.#onClose = onClose;
    void servers.join(board).then(() => {
      if (this.#isClosed) return;
      this.ask();
      // What was committed before this board was listened to.
      listener.behind();
    });
  }

  /** Whoever is here through other servers is not heard of. */
  get areAway(): boolean {
    return this.#servers.isAway;
  }

  /** No other server is known to hold the board. */
  get isAlone(): boolean {
    return this.#holders.size === 0;
  }

  /** The oldest of the servers that hold a board checks its rules. */
  get isLeading(): boolean {
    return [...this.#holders].every((other) => this.#servers.id < other);
  }

  /** Who else is here is asked to say so, with presence and findings. */
  ask(): void {
    this.#askedAt = performance.now();
    this.#tell({ kind: 'here', asks: true });
  }

  /** Nobody hears it where nobody else holds the board; who comes reads the store. */
  committed(commit: Commit): void {
    if (this.isAlone && performance.now() - this.#askedAt > answeredMs) return;
    const { message, payload } = commitMessage(commit);
    this.#tell(message, payload);
  }

  /** This server's commits come too late again and again. */
  waits(): void {
    if (!this.isAlone) this.#tell({ kind: 'waits' });
  }

  /** Nobody hears it where nobody else holds the board; who comes asks. */
  present(entry: PresenceElsewhere): void {
    if (this.#holders.size === 0) return;
    this.#news.set(entry.clientId, entry);
    this.#flush ??= setImmediate(() => this.#tellNews());
  }

  #tellNews(): void {
    if (!this.#flush) return;
    clearImmediate(this.#flush);
    this.#flush = null;
    const entries = [...this.#news.values()];
    this.#news.clear();
    this.#tell({ kind: 'presence', entries });
  }

  /** All who are here: what was said of them before may not have been heard. */
  people(shown: ReadonlyMap<number, number>): void {
    if (this.isAlone) return;
    this.#tellNews();
    this.#tell({ kind: 'people', shown: [...shown] });
  }

  /** Null: the same as before. */
  found(frame: Uint8Array | null, revision: number): void {
    if (this.#holders.size > 0) this.#tell({ kind: 'findings', revision }, frame ?? nothing);
  }

  hear(from: string, message: BusMessage, payload: Uint8Array): void {
    if (message.kind === 'left') {
      this.gone(from);
      return;
    }
    // Whoever speaks of a commit or of people holds the board.
    if (message.kind !== 'event') this.#meet(from, message.kind === 'here' && message.asks);
    switch (message.kind) {
      case 'commit': {
        const commit = commitFrom(message, payload);
        if (commit) this.#listener.committed(commit);
        else this.#listener.behind();
        break;
      }
      case 'waits':
        this.#listener.waits({ isOlder: from < this.#servers.id });
        break;
      case 'presence':
        this.#listener.present(from, message.entries);
        break;
      case 'people':
        if (!this.#listener.people(from, new Map(message.shown))) this.ask();
        break;
      case 'event':
        this.#listener.happened(message.event);
        break;
      case 'findings':
        if (payload.byteLength === 0) this.#listener.found(null, message.revision);
        else if (isFindings(payload)) this.#listener.found(payload, message.revision);
        break;
      default:
        break;
    }
  }

  /** Whoever is heard for the first time hears who is here, and so does whoever asks. */
  #meet(server: string, asks: boolean): void {
    const isNew = !this.#holders.has(server);
    this.#holders.add(server);
    if (asks) this.#tell({ kind: 'here', asks: false });
    if (!asks && !isNew) return;
    // What either committed while it believed itself alone, it told nobody.
    this.#listener.behind();
    this.#listener.asked();
  }

  gone(server: string): void {
    const led = this.isLeading;
    if (!this.#holders.delete(server)) return;
    this.#listener.gone(server);
    if (!led && this.isLeading) this.#listener.leads();
  }

  close(): void {
    this.#isClosed = true;
    if (this.#flush) clearImmediate(this.#flush);
    this.#tell({ kind: 'left' });
    this.#servers.leave(this.#board);
    this.#onClose();
  }

  #tell(message: BusMessage, payload = nothing): void {
    this.#servers.tell(this.#board, message, payload);
  }
}
