import type { BoardPlay } from '@stemline/board/board-play';
import { describeChanges } from '@stemline/board/diff';
import { close } from '@stemline/protocol/close';
import {
  documentVersion,
  type Hello,
  type LiveFinding,
  type Refused,
  type RoomEvent,
  type RoomMessage,
} from '@stemline/protocol/message';
import {
  atFirst,
  type Connection,
  type ConnectionModel,
  connectionOf,
  type Happening,
  step,
} from './connection.ts';
import { type Colleague, colleaguesOf, type OwnPresence } from './presence.ts';
import { Session, type SessionParts } from './session.ts';

/** Everything a screen reads of a live board beside its document; replaced whole at every change. */
export interface LiveState {
  connection: Connection;
  session: Session;
  /** What the room said this member may do; null before its first word. */
  hello: Hello | null;
  findings: readonly LiveFinding[];
  colleagues: readonly Colleague[];
  /** Whoever is on the board through another server is not shown, and his edits come late. */
  othersLate: boolean;
  /** The play as this coach had it when an edit was refused; null without a refusal. */
  refusedPlay: BoardPlay | null;
}

/** Before the room has told its list, which may be empty. */
export const noFindingsYet: readonly LiveFinding[] = [];

/** What is known of the others before a room has spoken. */
const nobodySeen = { colleagues: [], othersLate: false } as const;

/** A board's room as one page lives it: the document, whether it is safe, who else is there. */
export class LiveBoard {
  readonly #parts: SessionParts;
  readonly #listeners = new Set<() => void>();
  readonly #eventListeners = new Set<(event: RoomEvent) => void>();
  #model: ConnectionModel = atFirst;
  #state: LiveState;
  #ended = false;

  constructor(parts: SessionParts) {
    this.#parts = parts;
    this.#state = {
      connection: connectionOf(atFirst),
      session: this.#open(),
      hello: null,
      findings: noFindingsYet,
      ...nobodySeen,
      refusedPlay: null,
    };
  }

  readonly state = (): LiveState => this.#state;

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  /** Something beside the document changed: comments, changes, looks, access. */
  onEvent(listener: (event: RoomEvent) => void): () => void {
    this.#eventListeners.add(listener);
    return () => this.#eventListeners.delete(listener);
  }

  /** Shows the others where this coach is and what he holds. The server adds who he is. */
  present(presence: Partial<OwnPresence>): void {
    const { awareness } = this.#state.session;
    awareness.setLocalState({
      cursor: null,
      selected: null,
      drag: null,
      ...awareness.getLocalState(),
      ...presence,
    });
  }

  /** Tries again at once, or opens the board anew after the room closed. */
  retry(): void {
    if (this.#model.closed === null) {
      this.#state.session.retry();
      return;
    }
    this.#state.session.end();
    this.#happens({ type: 'opening' });
    this.#set({ session: this.#open(), ...nobodySeen });
  }

  /** The coach has read what was refused. */
  dismissRefused(): void {
    this.#happens({ type: 'dismissed' });
    this.#set({ refusedPlay: null });
  }

  end(): void {
    this.#ended = true;
    this.#state.session.end();
    this.#listeners.clear();
    this.#eventListeners.clear();
  }

  #open(): Session {
    const session: Session = new Session(this.#parts, {
      opening: () => this.#of(session, () => this.#happens({ type: 'opening' })),
      synced: () => this.#of(session, () => this.#synced(session)),
      down: () => this.#of(session, () => this.#down()),
      closed: (code) => this.#of(session, () => this.#closed(session, code)),
      unsaved: (count) => this.#of(session, () => this.#happens({ type: 'unsaved', count })),
      kept: (kept) => this.#of(session, () => this.#happens({ type: 'kept', kept })),
      presence: () =>
        this.#of(session, () => this.#set({ colleagues: colleaguesOf(session.awareness) })),
      message: (message) => this.#of(session, () => this.#receive(session, message)),
    });
    return session;
  }

  /** What an ended session still says is not about this board any more. */
  #of(session: Session, tell: () => void): void {
    if (!this.#ended && this.#state.session === session) tell();
  }

  #synced(session: Session): void {
    this.#happens({ type: 'synced' });
    const mine = this.#state.refusedPlay;
    if (mine && this.#model.refused?.work === null) {
      const shared = session.document.snapshot().board;
      this.#happens({ type: 'compared', work: describeChanges(shared, mine) });
    }
  }

  /** What the room said of itself holds no longer; it says so again. */
  #down(): void {
    this.#set({ othersLate: false });
    this.#happens({ type: 'down' });
  }

  #receive(session: Session, message: RoomMessage): void {
    switch (message.type) {
      case 'hello':
        if (message.hello.documentVersion !== documentVersion) {
          session.disconnect();
          this.#happens({ type: 'closed', code: close.clientTooOld });
          return;
        }
        this.#set({ hello: message.hello });
        return;
      case 'refused':
        void this.#startFresh(session, message.refused);
        return;
      case 'findings':
        this.#set({ findings: message.findings });
        return;
      case 'event':
        if (message.event.kind === 'saving') {
          this.#happens({ type: 'behind', behind: message.event.behind });
          return;
        }
        if (message.event.kind === 'servers') {
          this.#set({ othersLate: message.event.away });
          return;
        }
        for (const listener of this.#eventListeners) listener(message.event);
        return;
      case 'saved':
        // The session has already counted it.
        return;
    }
  }

  async #startFresh(session: Session, refused: Refused): Promise<void> {
    this.#happens({ type: 'refused', refused });
    this.#set({ refusedPlay: session.document.snapshot().board });
    await session.discard();
    if (this.#ended || this.#state.session !== session) return;
    // Once more: the coach's hand may have gone on until now.
    const refusedPlay = session.document.snapshot().board;
    this.#set({ refusedPlay, session: this.#open(), ...nobodySeen });
  }

  #closed(session: Session, code: number): void {
    if (code === close.outdatedCopy) void this.#replace(session);
    else this.#happens({ type: 'closed', code });
  }

  /**
   * The room has taken what was done on a copy from before a packing, and wants it replaced. What was
   * changed since goes to the room first, with the copy that it was made on.
   */
  async #replace(session: Session): Promise<void> {
    if (!(await session.discardIfSaved())) session.retry();
    else if (!this.#ended && this.#state.session === session)
      this.#set({ session: this.#open(), ...nobodySeen });
  }

  #happens(happening: Happening): void {
    const model = step(this.#model, happening);
    if (model === this.#model) return;
    this.#model = model;
    this.#set({ connection: connectionOf(model) });
  }

  #set(change: Partial<LiveState>): void {
    this.#state = { ...this.#state, ...change };
    for (const listener of [...this.#listeners]) listener();
  }
}
