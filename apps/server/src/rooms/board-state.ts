import type { EditScope } from '@stemline/board/edit-scope';
import type { ElementKey } from '@stemline/board/element-key';
import type { Refusal } from '@stemline/board/judge';
import type { Projection } from '@stemline/board/project';
import { newDocument } from '@stemline/board/schema';
import { structureOf } from '@stemline/football/formation';
import * as Y from 'yjs';
import { Gate } from './gate.ts';
import type { RoomLimits } from './limits.ts';
import type { Log, Writer } from './log.ts';
import type { Author, BoardAppend, BookLine } from './store.ts';

/** Who sends an update, as far as the board needs to know. */
export interface Sender {
  memberId: string;
  name: string;
  scope: EditScope;
}

/** One accepted update on its way to the store; without bytes it brought nothing new and only keeps its place. */
interface Pending<Origin> {
  origin: Origin;
  bytes: Uint8Array | null;
  memberId: string;
  at: Date;
  clients: readonly number[];
  authors: ReadonlyMap<ElementKey, Author | null>;
}

export interface LoadedState {
  boardId: string;
  /** Everything durable; the state takes it over. */
  ydoc: Y.Doc;
  line: BookLine;
  clients: Map<number, string | null>;
  authors: Map<ElementKey, Author>;
}

/** What a commit brought. */
export interface DurableChange {
  /** All of it as one update. */
  bytes: Uint8Array;
  /** Rows in the log, and the id of the last. */
  updates: number;
  last: bigint;
}

/** What a room hears from its board. `Origin` is whatever it gave with an update. */
interface BoardListener<Origin> {
  /** `origins`: of every update offered and now durable, in order. Without `change` none of them was news. */
  durable(origins: readonly Origin[], change: DurableChange | null): void;
  behind(): void;
  gone(): void;
  /** What is in memory can no longer be trusted; what is stored can. */
  broken(): void;
}

export interface BoardDeps<Origin> {
  log: Log;
  limits: RoomLimits;
  listener: BoardListener<Origin>;
  present: (clientId: number) => string | null;
  onFault: (error: unknown) => void;
  now: () => Date;
}

/**
 * A board between being accepted and being durable. `ydoc` is what is durable: everything that
 * leaves the room is read from it (R2).
 */
export class BoardState<Origin> implements Writer {
  readonly boardId: string;
  readonly ydoc: Y.Doc;
  readonly gate: Gate;
  readonly #deps: BoardDeps<Origin>;
  readonly #authors: Map<ElementKey, Author>;
  #line: BookLine;
  #waiting: Pending<Origin>[] = [];
  /** In the log's hands, in order, ahead of those that wait. */
  #handed: Pending<Origin>[] = [];
  #unsavedBytes = 0;
  #stateVector: Uint8Array | null = null;
  #settled: (() => void)[] = [];

  constructor(loaded: LoadedState, deps: BoardDeps<Origin>) {
    this.boardId = loaded.boardId;
    this.ydoc = loaded.ydoc;
    this.#line = loaded.line;
    this.#authors = loaded.authors;
    this.#deps = deps;
    this.gate = new Gate({
      accepted: () => this.#accepted(),
      clients: loaded.clients,
      present: deps.present,
      maxDocumentBytes: deps.limits.maxDocumentBytes,
      onFault: deps.onFault,
    });
  }

  /** Of what is durable. */
  get stateVector(): Uint8Array {
    this.#stateVector ??= Y.encodeStateVector(this.ydoc);
    return this.#stateVector;
  }

  /** Who last set each element, of what is durable. */
  get authors(): ReadonlyMap<ElementKey, Author> {
    return this.#authors;
  }

  get isSettled(): boolean {
    return this.#waiting.length + this.#handed.length === 0;
  }

  /** More waits for the store than a room may hold (R6). */
  get isFull(): boolean {
    return this.#unsavedBytes > this.#deps.limits.maxUnsavedBytes;
  }

  /** Resolves when everything accepted so far is durable. */
  settled(): Promise<void> {
    if (this.isSettled) return Promise.resolve();
    return new Promise((resolve) => this.#settled.push(resolve));
  }

  /** Offers an update; accepted (null), `origin` comes back once it is durable. */
  offer(update: Uint8Array, sender: Sender, origin: Origin): Refusal | null {
    const verdict = this.gate.judge(update, sender.memberId, sender.scope);
    if (!verdict.ok) return verdict;
    const { memberId, name } = sender;
    const at = this.#deps.now();
    if (!verdict.news) {
      this.#push({ origin, bytes: null, memberId, at, clients: [], authors: new Map() });
      return null;
    }
    // What is gone has no author.
    const authors = new Map(
      verdict.changed.map((key) => [key, this.gate.holds(key) ? { memberId, name, at } : null]),
    );
    this.#line = bookLine(verdict.projection);
    this.#unsavedBytes += verdict.update.byteLength;
    this.#push({ origin, bytes: verdict.update, memberId, at, clients: verdict.clients, authors });
    return null;
  }

  /**
   * Offers what `edit` does to the board as accepted, under a client id of its own; `nothing`: it does
   * nothing. One edit of a member's like any other: judged, logged and passed on by the same way.
   */
  offerEdit(
    edit: (ydoc: Y.Doc) => void,
    sender: Sender,
    origin: Origin,
  ): Refusal | 'nothing' | null {
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, this.#accepted());
    const parts: Uint8Array[] = [];
    ydoc.on('update', (part: Uint8Array) => parts.push(part));
    ydoc.transact(() => edit(ydoc));
    ydoc.destroy();
    return parts.length === 0 ? 'nothing' : this.offer(Y.mergeUpdates(parts), sender, origin);
  }

  gather(): BoardAppend | null {
    this.#handed = this.#waiting;
    this.#waiting = [];
    const updates = this.#handed.flatMap(({ bytes, memberId, at }) =>
      bytes ? [{ bytes, memberId, at }] : [],
    );
    if (updates.length === 0) {
      if (this.#handed.length > 0) this.#release(null);
      return null;
    }
    return {
      boardId: this.boardId,
      updates,
      clients: new Map(
        this.#handed.flatMap(({ clients, memberId }) =>
          clients.map((id) => [id, memberId] as const),
        ),
      ),
      authors: new Map(this.#handed.flatMap(({ authors }) => [...authors])),
      line: this.#line,
    };
  }

  committed(last: bigint): void {
    const updates = this.#handed.flatMap(({ bytes }) => bytes ?? []);
    this.ydoc.transact(() => {
      for (const bytes of updates) Y.applyUpdate(this.ydoc, bytes);
    });
    for (const { authors } of this.#handed) {
      for (const [key, author] of authors) {
        if (author) this.#authors.set(key, author);
        else this.#authors.delete(key);
      }
    }
    this.#stateVector = null;
    this.#unsavedBytes -= updates.reduce((sum, bytes) => sum + bytes.byteLength, 0);
    const [first] = updates;
    const bytes = updates.length === 1 && first ? first : Y.mergeUpdates(updates);
    this.#release({ bytes, updates: updates.length, last });
  }

  behind(): void {
    this.#deps.listener.behind();
  }

  gone(): void {
    this.#forget();
    this.#deps.listener.gone();
  }

  broken(error: unknown): void {
    this.#deps.onFault(error);
    this.#forget();
    this.#deps.listener.broken();
  }

  close(): void {
    this.gate.close();
    this.ydoc.destroy();
  }

  /** Nobody was told that these are saved: whoever wrote them still has them. */
  #forget(): void {
    this.#handed = [];
    this.#waiting = [];
    this.#unsavedBytes = 0;
    this.#tellSettled();
  }

  #push(pending: Pending<Origin>): void {
    this.#waiting.push(pending);
    this.#deps.log.wants(this);
  }

  #release(change: DurableChange | null): void {
    const origins = this.#handed.map(({ origin }) => origin);
    this.#handed = [];
    this.#deps.listener.durable(origins, change);
    this.#tellSettled();
  }

  #tellSettled(): void {
    if (!this.isSettled) return;
    const settled = this.#settled;
    this.#settled = [];
    for (const told of settled) told();
  }

  #accepted(): Uint8Array {
    const durable = Y.encodeStateAsUpdate(this.ydoc);
    const pending = [...this.#handed, ...this.#waiting].flatMap(({ bytes }) => bytes ?? []);
    return pending.length === 0 ? durable : Y.mergeUpdates([durable, ...pending]);
  }
}

/** Postgres' copy of what the book shows. */
export function bookLine({ board: { play } }: Projection): BookLine {
  return { name: play.name, concept: play.concept, formation: structureOf(play).name };
}
