import type { RoomEvent } from '@stemline/protocol/message';
import type { AccessChange } from '../../bus/message.ts';
import type { Servers } from '../../bus/servers.ts';
import type { RoomLimits } from '../limits.ts';
import type { BoardStore } from '../store.ts';
import { Peers, type PeersListener } from './peers.ts';

/** A room in memory, as far as it is compared with the store. */
interface Followed {
  readonly boardId: string;
  /** What the store says of its board; null: there is none any more. */
  compare(revision: number | null): void;
  /** Something beside the document may have changed. */
  publish(event: RoomEvent): void;
}

export interface FanOutDeps {
  servers: Servers;
  store: Pick<BoardStore, 'revisions'>;
  limits: Pick<RoomLimits, 'compareMs' | 'compareAwayMs' | 'hintsAwayMs'>;
  rooms: () => Iterable<Followed>;
  /** Decides again on those named. */
  accessChanged: (change: AccessChange) => void;
  /** Looks whether anybody's access changed unheard. */
  reviewAccess: () => Promise<void>;
  /** Redis carries, or does not any more. */
  turned: (isUp: boolean) => void;
  warn: (what: string, error: unknown) => void;
}

/** What a browser reads again when it is told; nobody can say which of them changed while nothing was heard. */
const hints: readonly RoomEvent[] = [{ kind: 'comments' }, { kind: 'changes' }, { kind: 'looks' }];

/**
 * The other servers, for all rooms of this one: carries what they say to the room that it is about, and
 * compares every room with the store now and then, since what was said may have been lost. SPEC R103 ff.
 */
export class FanOut {
  readonly #deps: FanOutDeps;
  readonly #peers = new Map<string, Peers>();
  #timer: NodeJS.Timeout | null = null;
  #comparing: Promise<void> = Promise.resolve();
  #isClosed = false;
  #hinted = performance.now();

  constructor(deps: FanOutDeps) {
    this.#deps = deps;
    deps.servers.listen({
      heard: (from, board, message, payload) => {
        if (message.kind === 'access') deps.accessChanged(message.change);
        else if (board !== null) this.#peers.get(board)?.hear(from, message, payload);
      },
      gone: (server) => {
        for (const peers of this.#peers.values()) peers.gone(server);
      },
      returned: () => this.#ask(),
      turned: (isUp) => this.#turned(isUp),
    });
    this.#compareLater();
  }

  /** The other rooms of a board. */
  connect(board: string, listener: PeersListener): Peers {
    const peers: Peers = new Peers(board, this.#deps.servers, listener, () => {
      if (this.#peers.get(board) === peers) this.#peers.delete(board);
    });
    this.#peers.set(board, peers);
    return peers;
  }

  /** Wherever the board is open. */
  publish(board: string, event: RoomEvent): void {
    this.#deps.servers.tell(board, { kind: 'event', event });
  }

  accessChanged(change: AccessChange): void {
    this.#deps.servers.tell(null, { kind: 'access', change });
  }

  /** Compares no more, and waits for what is under way. */
  async quiet(): Promise<void> {
    this.#isClosed = true;
    if (this.#timer) clearTimeout(this.#timer);
    await this.#comparing;
  }

  async close(): Promise<void> {
    await this.quiet();
    await this.#deps.servers.close();
  }

  #turned(isUp: boolean): void {
    this.#deps.turned(isUp);
    for (const room of this.#deps.rooms()) room.publish({ kind: 'servers', away: !isUp });
    if (!isUp) {
      this.#compareLater();
      return;
    }
    this.#ask();
    this.#hint();
    this.#compareNow();
  }

  #ask(): void {
    for (const peers of this.#peers.values()) peers.ask();
  }

  #compareLater(): void {
    if (this.#timer) clearTimeout(this.#timer);
    if (this.#isClosed) return;
    const { compareMs, compareAwayMs } = this.#deps.limits;
    this.#timer = setTimeout(
      () => this.#compareNow(),
      this.#deps.servers.isUp ? compareMs : compareAwayMs,
    );
  }

  #compareNow(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#comparing = this.#comparing
      .then(() => this.#compare())
      .catch((error: unknown) => this.#deps.warn('could not compare with the store', error))
      .then(() => this.#compareLater());
  }

  async #compare(): Promise<void> {
    if (this.#isClosed) return;
    const { servers, store, rooms, limits, reviewAccess } = this.#deps;
    const boards = [...rooms()].map(({ boardId }) => boardId);
    if (boards.length > 0) {
      const revisions = await store.revisions(boards);
      const asked = new Set(boards);
      for (const room of rooms()) {
        if (asked.has(room.boardId)) room.compare(revisions.get(room.boardId) ?? null);
      }
    }
    await reviewAccess();
    if (!servers.isUp && performance.now() - this.#hinted > limits.hintsAwayMs) this.#hint();
  }

  #hint(): void {
    this.#hinted = performance.now();
    for (const room of this.#deps.rooms()) for (const hint of hints) room.publish(hint);
  }
}
