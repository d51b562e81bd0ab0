import { BoardDocument } from '@stemline/board/document';
import { newDocument } from '@stemline/board/schema';
import type { RoomMessage } from '@stemline/protocol/message';
import { Awareness } from 'y-protocols/awareness';
import { type BrowserCopy, copyName, type OpenCopy } from './browser-copy.ts';
import type { OpenRoom, RoomLink } from './room-link.ts';
import { SavedLedger } from './saved-ledger.ts';

export interface SessionEvents {
  opening(): void;
  synced(): void;
  down(): void;
  closed(code: number): void;
  unsaved(count: number): void;
  /** Whether this browser's store holds everything written on this page. */
  kept(kept: boolean): void;
  presence(): void;
  message(message: RoomMessage): void;
}

export interface SessionParts {
  boardId: string;
  memberId: string;
  openRoom: OpenRoom;
  openCopy: OpenCopy;
}

interface AwarenessChange {
  added: number[];
  updated: number[];
  removed: number[];
}

let sessions = 0;

/**
 * One document with its link, its copy in this browser and its presence. A refused edit ends the
 * session, for nothing that this document sends afterwards would be understood; the next one
 * starts fresh.
 */
export class Session {
  /** New for every document: what holds on to a document is built anew when this changes. */
  readonly id: number = ++sessions;
  readonly document: BoardDocument;
  readonly awareness: Awareness;
  readonly #ledger: SavedLedger;
  readonly #copy: BrowserCopy;
  readonly #events: SessionEvents;
  #link: RoomLink | null = null;
  #writes = 0;
  #ended = false;

  constructor(parts: SessionParts, events: SessionEvents) {
    const ydoc = newDocument();
    this.document = new BoardDocument(ydoc);
    this.awareness = new Awareness(ydoc);
    this.#ledger = new SavedLedger(ydoc);
    this.#events = events;
    this.#copy = parts.openCopy(copyName(parts.memberId, parts.boardId), ydoc, () => {
      this.#writes += 1;
      events.kept(false);
    });
    ydoc.on('update', (_update, _origin, _doc, transaction) => {
      if (!transaction.local) return;
      const wasTold = !this.#ledger.holdsDeletions;
      this.#ledger.wrote(this.#link?.nextChange() ?? null);
      if (wasTold && this.#ledger.holdsDeletions) this.#copy.keepSaved(null);
      events.unsaved(this.#ledger.unsaved);
      void this.#keep();
    });
    // The page's own hand moves at every frame; the others have not moved with it.
    this.awareness.on('change', ({ added, updated, removed }: AwarenessChange) => {
      const others = [...added, ...updated, ...removed].some((id) => id !== ydoc.clientID);
      if (others) events.presence();
    });
    // What this browser kept goes first, so that it is part of the first exchange with the room.
    void this.#copy.loaded.then(({ savedThen }) => {
      if (this.#ended) return;
      this.#ledger.restored(savedThen);
      events.unsaved(this.#ledger.unsaved);
      if (this.#writes === 0) events.kept(true);
      this.#link = parts.openRoom(parts.boardId, ydoc, this.awareness, {
        opening: () => {
          this.#ledger.reconnecting();
          events.opening();
        },
        answered: (change) => this.#ledger.answered(change),
        synced: () => events.synced(),
        down: () => events.down(),
        closed: (code) => events.closed(code),
        message: (message) => this.#receive(message),
      });
    });
  }

  retry(): void {
    this.#link?.retry();
  }

  /** Ends the link alone: what is written from now on stays in this browser's copy. */
  disconnect(): void {
    this.#link?.destroy();
    this.#link = null;
  }

  /** Ends link and document; the copy in this browser stays. */
  end(): void {
    if (this.#ended) return;
    this.#ended = true;
    this.#link?.destroy();
    this.#copy.close();
    this.awareness.destroy();
    this.document.ydoc.destroy();
  }

  /** Ends the session and forgets its copy. */
  async discard(): Promise<void> {
    this.#ended = true;
    this.#link?.destroy();
    await this.#copy.drop();
    this.awareness.destroy();
    this.document.ydoc.destroy();
  }

  /** The same if the room holds every edit, those included that are made meanwhile; false: it goes on. */
  async discardIfSaved(): Promise<boolean> {
    if (this.#ledger.unsaved > 0) return false;
    await this.#copy.drop();
    if (this.#ledger.unsaved > 0) return false;
    this.end();
    return true;
  }

  async #keep(): Promise<void> {
    const write = ++this.#writes;
    this.#events.kept(false);
    const kept = await this.#copy.written();
    if (write === this.#writes) this.#events.kept(kept);
  }

  #receive(message: RoomMessage): void {
    if (this.#ended) return;
    if (message.type === 'saved') {
      this.#ledger.saved(message.stateVector, message.updates);
      if (!this.#ledger.holdsDeletions) this.#copy.keepSaved(message.stateVector);
      this.#events.unsaved(this.#ledger.unsaved);
    }
    this.#events.message(message);
  }
}
