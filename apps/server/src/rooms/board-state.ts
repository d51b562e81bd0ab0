import type { EditScope } from '@stemline/board/edit-scope';
import type { ElementKey } from '@stemline/board/element-key';
import type { Part } from '@stemline/board/judge-together';
import { fitPacked, type Packing } from '@stemline/board/packed';
import type { Projection } from '@stemline/board/project';
import { takeOver } from '@stemline/board/restore';
import { newDocument } from '@stemline/board/schema';
import type { Refusal } from '@stemline/board/verdict';
import { formationName } from '@stemline/football/formation-name';
import * as Y from 'yjs';
import type { Background } from './background.ts';
import { Durable } from './durable.ts';
import { CatchingUp } from './fan-out/catching-up.ts';
import { Gate, isEmpty, type Passed, type PassedTogether } from './gate.ts';
import type { RoomLimits } from './limits.ts';
import type { Log, Writer } from './log.ts';
import { merged } from './merged.ts';
import type { Author, BoardAppend, BoardStore, BookLine, Newer } from './store.ts';
import { Turn } from './turn.ts';
import type { WholeBoard } from './whole.ts';

/** Who sends an update, as far as the board needs to know. */
export interface Sender {
  memberId: string;
  name: string;
  scope: EditScope;
}

/** What one sender wrote, and whatever its room gave with it. */
interface Offer<Origin> {
  update: Uint8Array;
  sender: Sender;
  origin: Origin;
}

/** One accepted update on its way to the store; without bytes it brought nothing new and only keeps its place. */
interface Pending<Origin> {
  /** In the order in which they were accepted. */
  number: number;
  /** One, or more that were accepted together. */
  offers: readonly [Offer<Origin>, ...Offer<Origin>[]];
  bytes: Uint8Array | null;
  at: Date;
  clients: ReadonlyMap<number, string>;
  authors: ReadonlyMap<ElementKey, Author | null>;
  /** What the member wrote on the board as it was before a packing, when `bytes` are what it came to. */
  rebased: Uint8Array | null;
}

export interface LoadedState {
  boardId: string;
  /** Everything durable; the state takes it over. */
  ydoc: Y.Doc;
  /** Of the log, no later than `ydoc`, and the id of the last update in it. */
  revision: number;
  last: bigint;
  /** How often the board was packed, and what of that shows in `ydoc`. */
  packings: number;
  packing: Packing | null;
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
  /** Null: another server committed it. */
  commit: Commit | null;
}

/** One commit to the log of a board, as its other rooms take it over. */
export interface Commit {
  /** The revision before it, and after. */
  base: number;
  revision: number;
  last: bigint;
  bytes: Uint8Array;
  /** Rows in the log. */
  updates: number;
  clients: ReadonlyMap<number, string>;
  /** Null: the element is gone. */
  authors: ReadonlyMap<ElementKey, Author | null>;
}

/** What a room hears from its board. `Origin` is whatever it gave with an update. */
interface BoardListener<Origin> {
  /** A commit of this board is in the store: others may see it, ahead of all that `durable` tells next. */
  committed(origins: readonly Origin[], bytes: Uint8Array): void;
  /** `origins`: of every update offered and now durable, in order. Without `change` none of them was news. */
  durable(origins: readonly Origin[], change: DurableChange | null): void;
  /** What was accepted does not fit what another server made durable before it. */
  refused(origin: Origin, update: Uint8Array, refusal: Refusal): void;
  /** What was accepted together does not fit any more: their makers have to bring it again. */
  scattered(origins: readonly Origin[]): void;
  /** Later updates of the same source build on its earlier ones. */
  sourceOf(origin: Origin): object;
  behind(): void;
  gone(): void;
  /** Other servers are first again and again: they are to leave the next commit to this one. */
  waits(): void;
  /** What is in memory can no longer be trusted; what is stored can. */
  broken(): void;
}

export interface BoardDeps<Origin> {
  log: Log;
  limits: RoomLimits;
  store: Pick<BoardStore, 'newer'>;
  background: Background;
  listener: BoardListener<Origin>;
  present: (clientId: number) => string | null;
  onFault: (error: unknown) => void;
  /** A document was made or used that `rest` gives up. */
  onUse: () => void;
  now: () => Date;
}

/**
 * A board between being accepted and being durable. Everything that leaves the room is read from
 * `durable` (R2).
 */
export class BoardState<Origin> implements Writer {
  readonly boardId: string;
  readonly durable: Durable;
  readonly gate: Gate;
  readonly catchingUp: CatchingUp;
  /** Null: nothing of this board was ever packed away. */
  readonly packing: Packing | null;
  readonly #packings: number;
  readonly #deps: BoardDeps<Origin>;
  readonly #authors: Map<ElementKey, Author>;
  /** What the book shows, or the board to be read for it. */
  #line: BookLine | Projection;
  #revision: number;
  #last: bigint;
  #waiting: Pending<Origin>[] = [];
  /** In the log's hands, in order, ahead of those that wait. */
  #handed: Pending<Origin>[] = [];
  #append: BoardAppend | null = null;
  #unsavedBytes = 0;
  /** Something that waits does not fit what was read, and came after the store was asked. */
  #isInDoubt = false;
  readonly #turn: Turn;
  /** How many were accepted so far. */
  #accepted = 0;
  #settled: { upTo: number; told: () => void }[] = [];
  #isClosed = false;

  constructor(loaded: LoadedState, deps: BoardDeps<Origin>) {
    this.boardId = loaded.boardId;
    this.durable = new Durable(loaded.ydoc, {
      onUse: deps.onUse,
      onBroken: (error) => this.broken(error),
    });
    this.#line = loaded.line;
    this.#authors = loaded.authors;
    this.#revision = loaded.revision;
    this.#last = loaded.last;
    this.packing = loaded.packing;
    this.#packings = loaded.packings;
    this.#deps = deps;
    this.catchingUp = new CatchingUp({
      boardId: loaded.boardId,
      background: deps.background,
      revision: () => this.#revision,
      isWriting: () => this.#handed.length > 0,
      read: () => this.#readNewer(),
      onRead: () => {
        if (this.#waiting.length > 0) deps.log.wants(this);
      },
    });
    this.#turn = new Turn(deps.limits.turnMs, {
      isOurs: () => deps.listener.waits(),
      goesOn: () => {
        if (this.#waiting.length > 0) deps.log.wants(this);
      },
    });
    this.gate = new Gate({
      accepted: () => this.#acceptedState(),
      clients: loaded.clients,
      present: deps.present,
      maxDocumentBytes: deps.limits.maxDocumentBytes,
      onFault: deps.onFault,
      onUse: deps.onUse,
    });
  }

  /** Of what is durable. */
  get stateVector(): Uint8Array {
    return this.durable.stateVector;
  }

  /** Who last set each element, of what is durable. */
  get authors(): ReadonlyMap<ElementKey, Author> {
    return this.#authors;
  }

  /** Of the log, as far as it is here. */
  get revision(): number {
    return this.#revision;
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
    return new Promise((told) => this.#settled.push({ upTo: this.#accepted, told }));
  }

  /** An update as it can be offered; null: it builds on what was packed away (R86). */
  fit(update: Uint8Array): Uint8Array | null {
    if (!this.packing || isEmpty(update)) return update;
    try {
      return fitPacked(this.packing, this.durable.ydoc, update);
    } catch {
      // What cannot be read is for the gate to name.
      return update;
    }
  }

  /** Offers an update; accepted (null), `origin` comes back once it is durable. */
  offer(
    update: Uint8Array,
    sender: Sender,
    origin: Origin,
    rebased: Uint8Array | null = null,
  ): Refusal | null {
    const verdict = this.gate.judge(update, sender.memberId, sender.scope);
    if (!verdict.ok) return verdict;
    this.#accept(takenOf(verdict, sender), [{ update, sender, origin }], rebased);
    return null;
  }

  /** Offers updates that build on each other's words, so that none of them can be taken first (R112). */
  offerTogether(offers: Pending<Origin>['offers']): Refusal | null {
    const verdict = this.gate.judgeTogether(offers.map(partOf));
    if (!verdict.ok) return verdict;
    this.#accept(verdict, offers, null);
    return null;
  }

  #accept(
    verdict: PassedTogether,
    offers: Pending<Origin>['offers'],
    rebased: Uint8Array | null,
  ): void {
    this.#accepted += 1;
    const offered = { number: this.#accepted, offers, at: this.#deps.now(), rebased };
    this.#push(this.#pendingOf(verdict, offered));
    this.#deps.log.wants(this);
  }

  /**
   * Offers what an update comes to that was written on the board as it was before a packing: it is judged
   * on the whole board, and the elements it changes there are set here, as one edit of its author (R86).
   */
  offerRebased(
    update: Uint8Array,
    whole: WholeBoard,
    sender: Sender,
    origin: Origin,
  ): Refusal | 'nothing' | null {
    const state = merged([whole.stateFor(this.durable, update), ...this.#pendingBytes()]);
    const trial = this.gate.tryOn(state, update, sender.memberId, sender.scope);
    try {
      if (!trial.verdict.ok) return trial.verdict;
      const { changed } = trial.verdict;
      return this.offerEdit((ydoc) => takeOver(ydoc, trial.ydoc, changed), sender, origin, update);
    } finally {
      trial.end();
    }
  }

  #pendingOf(
    verdict: PassedTogether,
    offered: Pick<Pending<Origin>, 'number' | 'offers' | 'at' | 'rebased'>,
  ): Pending<Origin> {
    if (!verdict.news)
      return { ...offered, bytes: null, clients: new Map(), authors: new Map(), rebased: null };
    const { at, offers } = offered;
    const names = new Map(offers.map(({ sender }) => [sender.memberId, sender.name]));
    const authors = new Map(
      [...verdict.changed].map(([key, memberId]) => {
        const author = { memberId, name: names.get(memberId) ?? '', at };
        // What is gone has no author.
        return [key, this.gate.holds(key) ? author : null];
      }),
    );
    this.#line = verdict.projection;
    const { update: bytes, clients } = verdict;
    return { ...offered, bytes, clients, authors };
  }

  /**
   * Offers what `edit` does to the board as accepted, under a client id of its own; `nothing`: it does
   * nothing. One edit of a member's like any other: judged, logged and passed on by the same way.
   */
  offerEdit(
    edit: (ydoc: Y.Doc) => void,
    sender: Sender,
    origin: Origin,
    rebased: Uint8Array | null = null,
  ): Refusal | 'nothing' | null {
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, this.#acceptedState());
    const parts: Uint8Array[] = [];
    ydoc.on('update', (part: Uint8Array) => parts.push(part));
    ydoc.transact(() => edit(ydoc));
    ydoc.destroy();
    if (parts.length === 0) return 'nothing';
    return this.offer(merged(parts), sender, origin, rebased);
  }

  gather(): BoardAppend | null {
    if (this.catchingUp.isReading || this.#turn.isLeft) return null;
    this.#handed = this.#waiting;
    this.#waiting = [];
    const updates = this.#handed.flatMap(({ bytes, offers: [{ sender }], at, rebased }) =>
      bytes ? [{ bytes, memberId: sender.memberId, at, rebased }] : [],
    );
    if (updates.length === 0) {
      if (this.#handed.length > 0) this.#release(null);
      return null;
    }
    if ('board' in this.#line) this.#line = bookLine(this.#line);
    this.#append = {
      boardId: this.boardId,
      base: this.#revision,
      updates,
      clients: new Map(this.#handed.flatMap(({ clients }) => [...clients])),
      authors: new Map(this.#handed.flatMap(({ authors }) => [...authors])),
      line: this.#line,
    };
    return this.#append;
  }

  committed({ last, revision }: { last: bigint; revision: number }): void {
    const append = this.#append;
    if (!append) throw new Error('nothing was gathered');
    this.#turn.won();
    const updates = append.updates.map(({ bytes }) => bytes);
    const bytes = merged(updates);
    this.#deps.listener.committed(this.#handedOrigins, bytes);
    this.#unsavedBytes -= updates.reduce((sum, bytes) => sum + bytes.byteLength, 0);
    const commit: Commit = {
      base: append.base,
      revision,
      last,
      bytes,
      updates: updates.length,
      clients: append.clients,
      authors: append.authors,
    };
    this.#apply(updates, commit);
    this.#noteAuthors(commit.authors);
    this.#release({ bytes, updates: updates.length, last, commit });
    this.catchingUp.begin();
  }

  /** Another server was first: what it wrote comes first here too, and ours is judged again on it. */
  stale(): void {
    this.#waiting = [...this.#handed, ...this.#waiting];
    this.#handed = [];
    this.catchingUp.due();
  }

  /**
   * Another server says what it committed; what does not follow directly is read from the store. So it is
   * when something waits here: that may rest on more than this one commit.
   */
  hear(commit: Commit): void {
    this.#turn.taken();
    if (commit.revision <= this.#revision) return;
    const isNext = commit.base === this.#revision;
    if (!isNext || this.catchingUp.isReading || !this.isSettled) {
      this.catchingUp.due();
      return;
    }
    try {
      for (const [clientId, member] of commit.clients) this.gate.bind(clientId, member);
      this.#apply([commit.bytes], commit);
      this.#noteAuthors(commit.authors);
      this.#takeOver(commit, 0);
    } catch (error) {
      this.broken(error);
    }
  }

  /** Another server asks for the next commit. */
  leaveTurn(to: { isOlder: boolean }): void {
    this.#turn.leaveTo(to);
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

  /** Gives up what can be made again from what is durable (R89); false: something is on its way. */
  rest(): boolean {
    if (!this.isSettled || this.catchingUp.isReading) return false;
    this.gate.renew();
    this.durable.rest();
    return true;
  }

  close(): void {
    this.#isClosed = true;
    this.#turn.close();
    this.catchingUp.close();
    this.gate.close();
    this.durable.close();
  }

  /** Nobody was told that these are saved: whoever wrote them still has them. */
  #forget(): void {
    this.#handed = [];
    this.#waiting = [];
    this.#unsavedBytes = 0;
    this.#tellSettled();
  }

  #push(pending: Pending<Origin>): void {
    this.#unsavedBytes += pending.bytes?.byteLength ?? 0;
    this.#waiting.push(pending);
  }

  async #readNewer(): Promise<void> {
    const waited = this.#waiting.length;
    const newer = await this.#deps.store.newer(this.boardId, this.#last);
    if (this.#isClosed) return;
    if (waited > 0 && newer && newer.updates.length > 0) this.#turn.lost();
    if (newer === null) {
      this.gone();
      return;
    }
    try {
      this.#takeNewer(newer, waited);
    } catch (error) {
      this.broken(error);
    }
  }

  /** `waited`: how many of those that wait did so before the store was asked. */
  #takeNewer({ revision, packings, updates, clients, authors }: Newer, waited: number): void {
    if (packings !== this.#packings) {
      // It was packed under this room, which stands on what is gone: nothing of it may be written any more.
      this.#forget();
      this.#deps.listener.broken();
      return;
    }
    const last = updates.at(-1)?.id;
    this.#revision = Math.max(this.#revision, revision);
    if (last === undefined) {
      if (this.#isInDoubt) this.#judgeAgain(waited);
      return;
    }
    const rows = updates.map(({ bytes }) => bytes);
    for (const [clientId, member] of clients) this.gate.bind(clientId, member);
    this.#authors.clear();
    this.#noteAuthors(authors);
    this.#apply(rows, { revision, last });
    this.#takeOver({ bytes: merged(rows), updates: updates.length, last }, waited);
  }

  #apply(updates: readonly Uint8Array[], to: { revision: number; last: bigint }): void {
    this.durable.apply(updates);
    this.#revision = Math.max(this.#revision, to.revision);
    if (to.last > this.#last) this.#last = to.last;
  }

  #noteAuthors(authors: ReadonlyMap<ElementKey, Author | null>): void {
    for (const [key, author] of authors) {
      if (author) this.#authors.set(key, author);
      else this.#authors.delete(key);
    }
  }

  /** What another server made durable is passed on; what waits here is judged again on it. */
  #takeOver(
    { bytes, updates, last }: { bytes: Uint8Array; updates: number; last: bigint },
    waited: number,
  ): void {
    this.#deps.listener.durable([], { bytes, updates, last, commit: null });
    if (this.#waiting.length === 0) this.gate.absorb(bytes);
    else this.#judgeAgain(waited);
  }

  /**
   * In the order in which it came, with the rights of then. What another server stored already (an
   * append of ours whose answer was lost, an edit sent again over another connection) brings no news,
   * and is released as durable without being written twice. Of what came later than the first `waited`
   * none is refused: it may rest on what the store was not asked for yet, and is asked for now (R101).
   */
  #judgeAgain(waited: number): void {
    this.#isInDoubt = false;
    const waiting = this.#waiting;
    this.#waiting = [];
    this.#unsavedBytes = 0;
    this.gate.renew();
    const ended = new Set<object>();
    const hasEnded = ({ offers }: Pending<Origin>): boolean =>
      offers.some(({ origin }) => ended.has(this.#deps.listener.sourceOf(origin)));
    for (const [place, pending] of waiting.entries()) {
      // Nobody was told that it is saved: its maker still has it.
      const verdict = hasEnded(pending) ? null : this.#judged(pending);
      if (verdict?.ok) {
        this.#push(pending.bytes ? this.#pendingOf(verdict, pending) : pending);
        continue;
      }
      if (verdict && place >= waited) {
        for (const later of waiting.slice(place)) if (!hasEnded(later)) this.#push(later);
        this.#isInDoubt = true;
        this.gate.renew();
        this.catchingUp.due();
        return;
      }
      const [{ origin, update }, ...others] = pending.offers;
      const sources = pending.offers.map((offer) => this.#deps.listener.sourceOf(offer.origin));
      const isEnded = sources.every((source) => ended.has(source));
      for (const source of sources) ended.add(source);
      if (others.length > 0) {
        if (!isEnded) this.#deps.listener.scattered(pending.offers.map((offer) => offer.origin));
      } else if (verdict) this.#deps.listener.refused(origin, pending.bytes ?? update, verdict);
    }
    this.#tellSettled();
  }

  /** What is already durable is not judged again. */
  #judged({ offers, bytes }: Pending<Origin>): PassedTogether | Refusal {
    if (!bytes) return { ok: true, news: false };
    if (offers.length > 1) return this.gate.judgeTogether(offers.map(partOf));
    const [{ sender }] = offers;
    const verdict = this.gate.judge(bytes, sender.memberId, sender.scope);
    return verdict.ok ? takenOf(verdict, sender) : verdict;
  }

  get #handedOrigins(): readonly Origin[] {
    return this.#handed.flatMap(({ offers }) => offers.map(({ origin }) => origin));
  }

  #release(change: DurableChange | null): void {
    const origins = this.#handedOrigins;
    this.#handed = [];
    this.#deps.listener.durable(origins, change);
    this.#tellSettled();
  }

  #tellSettled(): void {
    if (this.#settled.length === 0) return;
    const oldest = (this.#handed[0] ?? this.#waiting[0])?.number ?? Number.POSITIVE_INFINITY;
    const settled = this.#settled.filter(({ upTo }) => upTo < oldest);
    this.#settled = this.#settled.filter(({ upTo }) => upTo >= oldest);
    for (const { told } of settled) told();
  }

  #acceptedState(): Uint8Array {
    return merged([this.durable.encode(), ...this.#pendingBytes()]);
  }

  #pendingBytes(): Uint8Array[] {
    return [...this.#handed, ...this.#waiting].flatMap(({ bytes }) => bytes ?? []);
  }
}

/** The same as of what more than one brought. */
function takenOf(verdict: Passed & { ok: true }, { memberId }: Sender): PassedTogether {
  if (!verdict.news) return verdict;
  const { changed, clients, ...rest } = verdict;
  return {
    ...rest,
    changed: new Map(changed.map((key) => [key, memberId])),
    clients: new Map(clients.map((id) => [id, memberId])),
  };
}

const partOf = ({ update, sender: { memberId, scope } }: Offer<unknown>): Part => ({
  update,
  member: memberId,
  scope,
});

/** Postgres' copy of what the book shows. */
export function bookLine({ board: { play } }: Projection): BookLine {
  return { name: play.name, concept: play.concept, formation: formationName(play) };
}
