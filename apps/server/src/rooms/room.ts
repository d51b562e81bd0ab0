import type { BoardPlay } from '@stemline/board/board-play';
import { maxWritersOfUpdate } from '@stemline/board/limits';
import { mentionsIfReadable } from '@stemline/board/mentions';
import { writersOf } from '@stemline/board/own-words';
import { lags } from '@stemline/board/packed';
import type { Refusal as JudgeRefusal } from '@stemline/board/verdict';
import { close } from '@stemline/protocol/close';
import { encodeMessage } from '@stemline/protocol/codec';
import {
  documentVersion,
  type Hello,
  type LiveFinding,
  type RoomEvent,
} from '@stemline/protocol/message';
import * as Y from 'yjs';
import type { Pass } from './access.ts';
import type { Background } from './background.ts';
import { BoardState, type DurableChange, type Sender } from './board-state.ts';
import type { Checker } from './checking/checker.ts';
import type { Connection, Listener } from './connection.ts';
import type { CostlyUpdates } from './costly-updates.ts';
import { Early } from './early.ts';
import type { Peers, PeersListener } from './fan-out/peers.ts';
import { Folding } from './folding.ts';
import {
  answerFrame,
  askFrame,
  type ClientFrame,
  MalformedFrame,
  readFrame,
  updateFrame,
} from './frames.ts';
import { isEmpty } from './gate.ts';
import type { RoomLimits } from './limits.ts';
import type { LoadedBoard } from './load.ts';
import type { Log } from './log.ts';
import type { RoomMetrics } from './metrics.ts';
import type { Outbox } from './outbox.ts';
import { type Packed, pack } from './packed.ts';
import { Premature, type Sent } from './premature.ts';
import { Presence } from './presence.ts';
import type { Quarantine } from './quarantine.ts';
import type { Refusal } from './refusal.ts';
import { RuleCheck } from './rule-check.ts';
import type { StaffLooks } from './staff-looks.ts';
import { Stillness } from './stillness.ts';
import type { BoardStore } from './store.ts';
import { type WholeBoard, WholeBoards } from './whole.ts';

export interface RoomDeps {
  store: BoardStore;
  log: Log;
  limits: RoomLimits;
  background: Background;
  checker: Checker;
  staffLooks: StaffLooks;
  quarantine: Quarantine;
  costlyUpdates: CostlyUpdates;
  metrics: RoomMetrics;
  outbox: Outbox;
  now: () => Date;
  /** The rooms of this board on other servers; null: no other server writes to the store. */
  connect: ((listener: PeersListener) => Peers) | null;
  /** Nobody is here any more, or somebody is again. */
  onRest: (isAtRest: boolean) => void;
  /** What is in memory can no longer be trusted: the room must go, and be loaded anew. */
  onBroken: () => void;
  /** A fault of ours. */
  onFault: (error: unknown) => void;
  /** An operator may want to know. */
  note: (what: string, details: Record<string, unknown>) => void;
}

/** What became of an edit that came through the API. */
export type EditOutcome =
  | { kind: 'made' }
  /** It would have changed nothing. */
  | { kind: 'nothing' }
  | { kind: 'refused'; why: string; mend: string }
  /** More waits for the store than the room may hold. */
  | { kind: 'storeAway' };

/** Whose an update is. */
type Origin =
  /**
   * So many of his frames are in it; when it was accepted (performance.now); whether his own copy of the
   * board is past use, since what he wrote on it stands here in other words (R86).
   */
  | { connection: Connection; frames: number; at: number; rebased: boolean }
  /** It came through the API: what became of it. */
  | { connection: null; outcome: EditOutcome };

/** Those whose own updates a commit did not touch hear of it together, after this long: nothing of theirs waits. */
const savedForOthersMs = 1_000;
/** An update waits for others' words so often at most (R112), */
const maxWaitsOfUpdate = 8;
/** so long when it builds on them, and as long again for the answer of whoever is asked once more, milliseconds, */
const builtOnPatienceMs = 2_000;
/** so long when they are in it as if they were its sender's: they were sent before it, */
const othersPatienceMs = 250;
/** and so long when they are in his answer to the sync: whoever wrote them may be on his way back to the room too. */
const returnPatienceMs = 4_000;
/** So long an answer to the sync waits with words under ids that nobody knows, for whoever may show that they are his. */
const strangersPatienceMs = 1_000;
/** Bytes by which a client's state vector may exceed the board's: more than all the new writers it may bring take. */
const maxForeignVectorBytes = 20 * maxWritersOfUpdate;

/** One board with everybody on it: the only owner of its document, timers and listeners. */
export class Room implements Listener {
  readonly boardId: string;
  readonly #deps: RoomDeps;
  readonly #board: BoardState<Origin>;
  readonly #presence: Presence;
  readonly #rules: RuleCheck;
  readonly #folding: Folding;
  readonly #whole: WholeBoards;
  readonly #stillness: Stillness;
  readonly #connections = new Set<Connection>();
  /** What came from connections that have not answered the room's sync yet; who has is in it no more. */
  readonly #early = new Map<Connection, Early>();
  readonly #premature: Premature;
  /** How often what a connection sent last had to wait for others, */
  readonly #waits = new Map<Connection, number>();
  /** and who was asked again for all he has. */
  readonly #asked = new Set<Connection>();
  /** Who has not been told yet that more is durable. */
  readonly #savedDue = new Set<Connection>();
  #savedTimer: NodeJS.Timeout | null = null;
  #isBehind = false;
  readonly #peers: Peers | null;
  /** The revision that had no findings when the board was last compared with the store. */
  #unled = -1;
  /** Whose update is judged with everything durable at hand. */
  #caughtUpFor: Connection | null = null;
  /** Others than connections who need the room: a freeze, somebody about to join. */
  #guests = 0;

  constructor(loaded: LoadedBoard, deps: RoomDeps) {
    this.boardId = loaded.boardId;
    this.#deps = deps;
    const { store, log, limits, background, checker, staffLooks, outbox, now } = deps;
    this.#peers =
      deps.connect?.({
        committed: (commit) => this.#board.hear(commit),
        behind: () => this.#board.catchingUp.due(),
        waits: (server) => this.#board.leaveTurn(server),
        present: (server, entries) => this.#presence.hearFrom(server, entries),
        people: (server, shown) => this.#presence.peopleAt(server, shown),
        happened: (event) => this.publish(event),
        found: (frame, revision) => this.#hearFindings(frame, revision),
        asked: () => this.#answerPeers(),
        gone: (server) => this.#presence.serverGone(server),
        leads: () => this.#rules.lead(),
      }) ?? null;
    this.#stillness = new Stillness(limits.restMs, () => this.#rules.rest() && this.#board.rest());
    this.#presence = new Presence({
      limits,
      outbox,
      connections: () => this.#connections,
      ownerOf: (clientId) => this.#board.gate.ownerOf(clientId),
      tellPeers: (entry) => this.#peers?.present(entry),
      onForged: (connection) => this.#turnAway(connection, 'presenceSpoofed', 'presence'),
    });
    this.#board = new BoardState<Origin>(loaded, {
      log,
      limits,
      now,
      store,
      background,
      present: (clientId) => this.#presence.ownerOf(clientId),
      onFault: deps.onFault,
      onUse: () => this.#stillness.used(),
      listener: {
        committed: (origins, bytes) => this.#committed(origins, bytes),
        durable: (origins, change) => this.#durable(origins, change),
        refused: (origin, update, refusal) => this.#refuseLate(origin, update, refusal),
        scattered: (origins) => {
          for (const { connection } of origins) connection?.refuse('storeAway');
        },
        sourceOf: (origin) => origin.connection ?? origin,
        behind: () => this.#setBehind(true),
        gone: () => this.#closeAll('unknownBoard'),
        waits: () => this.#peers?.waits(),
        broken: () => deps.onBroken(),
      },
    });
    this.#premature = new Premature({
      limits,
      reached: (clientId) => this.#board.gate.reached(clientId),
      ownerOf: (clientId) => this.#board.gate.boundTo(clientId) ?? null,
      speakerOf: (clientId) => this.#presence.speakerOf(clientId),
      isHere: (clientId) => this.#presence.has(clientId),
      onCame: (connection, sent) => this.#later(connection, () => this.#change(connection, sent)),
      onTogether: (group) => this.#changeTogether(group),
      onOutwaited: (connection, sent, refusal) =>
        this.#later(connection, () => this.#outwaited(connection, sent, refusal)),
    });
    this.#rules = new RuleCheck({
      board: this.#board,
      staffId: loaded.staffId,
      maker: loaded.maker,
      store,
      limits,
      background,
      checker,
      staffLooks,
      now,
      leads: () => this.#peers?.isLeading ?? true,
      onFindings: (frame, revision, isNew) => {
        if (isNew) this.#send(pack(frame));
        this.#peers?.found(isNew ? frame : null, revision);
      },
    });
    this.#stillness.used();
    this.#whole = new WholeBoards(loaded.boardId, store);
    this.#folding = new Folding(loaded, {
      durable: this.#board.durable,
      store,
      limits,
      background,
    });
  }

  /** Nobody needs the room, and nothing of it waits for the store. */
  get isAtRest(): boolean {
    return this.#connections.size === 0 && this.#guests === 0 && this.#board.isSettled;
  }

  /** Only the bytes of the board are kept: nothing happens on it (R89). */
  get isResting(): boolean {
    return this.#board.durable.isResting;
  }

  /** Whether what overwritten values left behind may be worth packing away, and no other server is on the board. */
  get mayBeWorthPacking(): boolean {
    return (this.#peers?.isAlone ?? true) && this.#board.durable.mayBeWorthPacking;
  }

  /** Keeps the room alive for somebody who has no connection in it; gives back how to let go. */
  keep(): () => void {
    this.#guests += 1;
    this.#deps.onRest(false);
    return () => {
      this.#guests -= 1;
      this.#noteRest();
    };
  }

  join(connection: Connection): void {
    if (connection.closed) return;
    this.#connections.add(connection);
    this.#deps.onRest(false);
    this.#early.set(connection, this.#earlyOf(connection));
    this.greet(connection);
    connection.send(pack(askFrame(this.#board.stateVector)));
    if (this.#isBehind) connection.send(behindFrame(true));
    if (this.#peers?.areAway) connection.send(serversAwayFrame);
    if (this.#rules.frame) connection.send(pack(this.#rules.frame));
    else this.#rules.soon();
    connection.listen(this);
  }

  /** Tells a connection who it is here and what it may do. */
  greet(connection: Connection): void {
    connection.send(pack(encodeMessage({ type: 'hello', hello: helloOf(connection.pass) })));
  }

  publish(event: RoomEvent): void {
    this.#send(pack(encodeMessage({ type: 'event', event })));
    if (event.kind === 'looks' || event.kind === 'changes') this.#rules.readAgain();
  }

  /** The durable board and its findings: everything accepted here by now, and durable by now anywhere. */
  async freeze(): Promise<{ content: BoardPlay; findings: readonly LiveFinding[] }> {
    await this.#board.settled();
    await this.#board.catchingUp.now();
    return this.#rules.now({ afresh: true });
  }

  /** An edit of a member's that comes by no connection; resolves once it is durable (R91). */
  async edit(sender: Sender, edit: (ydoc: Y.Doc) => void): Promise<EditOutcome> {
    if (this.#board.isFull) return { kind: 'storeAway' };
    const origin: Origin & { connection: null } = {
      connection: null,
      outcome: { kind: 'storeAway' },
    };
    const answer = this.#board.offerEdit(edit, sender, origin);
    if (answer === 'nothing') return { kind: 'nothing' };
    if (answer) {
      this.#deps.metrics.editRefused(answer.code);
      return { kind: 'refused', why: answer.why, mend: answer.mend };
    }
    await this.#board.settled();
    return origin.outcome;
  }

  /** What the store says of the board; what a bus said, or did not say, is no matter (R103). */
  compare(revision: number | null): void {
    if (revision === null) this.#closeAll('unknownBoard');
    else this.#board.catchingUp.heard(revision);
    this.#peers?.people(this.#presence.shown);
    // A whole turn has passed since it was durable here, and whoever leads has not told what it found.
    const waits = this.#connections.size > 0 && this.#rules.revision < this.#board.revision;
    if (waits && this.#unled === this.#board.revision) this.#rules.checkUnled();
    this.#unled = waits ? this.#board.revision : -1;
  }

  #hearFindings(frame: Uint8Array | null, revision: number): void {
    if (this.#rules.hear(frame, revision) && this.#rules.frame) this.#send(pack(this.#rules.frame));
    else if (!this.#rules.frame) this.#peers?.ask();
  }

  /** Another server holds the board from now on. */
  #answerPeers(): void {
    this.#presence.tellPeers();
    if (!this.#peers?.isLeading) return;
    if (this.#rules.frame) this.#peers.found(this.#rules.frame, this.#rules.revision);
    else this.#rules.soon();
  }

  /** Resolves when nothing accepted waits for the store any more. */
  settled(): Promise<void> {
    return this.#board.settled();
  }

  heldOf(connection: Connection): number {
    return (this.#early.get(connection)?.heldBytes ?? 0) + this.#premature.heldOf(connection);
  }

  /** Whatever a frame brings about, it ends no more than the connection it came by. */
  receive(connection: Connection, bytes: Uint8Array): void {
    try {
      this.#take(connection, readFrame(bytes));
    } catch (error) {
      this.#fault(connection, error);
    }
  }

  /** The same of what is done with it later, which waits too while the connection is held (R51). */
  #later(connection: Connection, work: () => void): void {
    connection.next(() => {
      try {
        work();
      } catch (error) {
        this.#fault(connection, error);
      }
    });
  }

  #fault(connection: Connection, error: unknown): void {
    if (!(error instanceof MalformedFrame)) this.#deps.onFault(error);
    this.#turnAway(connection, 'malformed', (error as Error).message);
  }

  #take(connection: Connection, frame: ClientFrame): void {
    switch (frame.kind) {
      case 'syncRequest':
        this.#sync(connection, frame.stateVector);
        break;
      case 'answer':
      case 'change':
        this.#hear(connection, frame);
        break;
      case 'presence': {
        const refusal = this.#presence.receive(connection, frame.entries);
        if (refusal) this.#turnAway(connection, refusal, 'presence');
        else this.#premature.progressed();
        break;
      }
      case 'presenceRequest':
        this.#presence.welcome(connection);
        break;
    }
  }

  /** Ends everything the room owns. Connections are closed with the refusal's code. */
  close(why: Refusal): void {
    this.#closeAll(why);
    if (this.#savedTimer) clearTimeout(this.#savedTimer);
    this.#stillness.close();
    this.#peers?.close();
    this.#whole.close();
    this.#rules.close();
    this.#presence.close();
    this.#premature.close();
    this.#board.close();
  }

  left(connection: Connection): void {
    this.#connections.delete(connection);
    this.#savedDue.delete(connection);
    this.#early.get(connection)?.close();
    this.#early.delete(connection);
    this.#premature.left(connection);
    this.#waits.delete(connection);
    this.#asked.delete(connection);
    this.#presence.leave(connection);
    this.#premature.progressed();
    this.#noteRest();
  }

  #noteRest(): void {
    if (this.isAtRest) this.#deps.onRest(true);
  }

  #sync(connection: Connection, stateVector: Uint8Array): void {
    const { packing, durable } = this.#board;
    if (stateVector.byteLength > this.#board.stateVector.byteLength + maxForeignVectorBytes) {
      this.#turnAway(connection, 'malformed', 'a state vector of more writers than the board has');
      return;
    }
    try {
      Y.decodeStateVector(stateVector);
    } catch (error) {
      this.#turnAway(connection, 'malformed', (error as Error).message);
      return;
    }
    if (packing && lags(packing, stateVector)) void this.#answerWhole(connection, stateVector);
    else this.#answer(connection, () => durable.answerTo(stateVector));
  }

  #answer(connection: Connection, make: () => Uint8Array): void {
    if (!connection.answer(() => pack(answerFrame(make())))) return;
    this.#sendSaved(connection);
    this.#presence.welcome(connection);
  }

  /** His copy is older than the packing: he is answered from the board whole (R85). */
  async #answerWhole(connection: Connection, stateVector: Uint8Array): Promise<void> {
    const release = connection.hold();
    try {
      const whole = await this.#whole.recent();
      if (connection.closed) return;
      this.#answer(connection, () => whole.answerTo(stateVector, this.#board.durable));
    } catch (error) {
      this.#storeAway(connection, error);
    } finally {
      release();
    }
  }

  #storeAway(connection: Connection, error: unknown): void {
    this.#deps.note('a board could not be read whole', {
      board: this.boardId,
      why: (error as Error).message,
    });
    connection.refuse('storeAway');
  }

  /** `outrunPatienceMs`: for an answer to what it builds on. */
  #earlyOf(connection: Connection, outrunPatienceMs = this.#deps.limits.outrunPatienceMs): Early {
    return new Early({
      limits: this.#deps.limits,
      outrunPatienceMs,
      stateVector: () => this.#board.stateVector,
      onReady: (update, frames) => {
        this.#early.delete(connection);
        const sent: Sent = { update, frames, kind: 'answer' };
        this.#later(connection, () => this.#hearNext(connection, sent));
      },
      onTooMany: () => this.#turnAway(connection, 'tooMany', 'edits before the answer to the sync'),
    });
  }

  /** Until a connection has answered the room's sync, its edits wait for that answer (R24). */
  #hear(connection: Connection, { kind, update }: ClientFrame & { update: Uint8Array }): void {
    const early = this.#early.get(connection);
    if (!early) this.#hearNext(connection, { update, frames: 1, kind: 'change' });
    else if (kind === 'answer') early.answered(update);
    else early.keep(update);
  }

  /** In the order in which it was sent: behind what waits for others' words (R112). */
  #hearNext(connection: Connection, sent: Sent): void {
    if (!this.#premature.has(connection)) this.#change(connection, sent);
    else if (!this.#premature.keep(connection, sent))
      this.#turnAway(connection, 'tooMany', 'edits while others are waited for');
  }

  /** Ahead of all that comes by its line from now on. */
  #hearAgain(connection: Connection, [first, ...rest]: readonly Sent[]): void {
    this.#later(connection, () => {
      if (first) this.#hearNext(connection, first);
      if (rest.length > 0) this.#hearAgain(connection, rest);
    });
  }

  #change(connection: Connection, sent: Sent): void {
    if (connection.closed) return;
    const { update, frames } = sent;
    if (this.#board.isFull) {
      this.#closeAll('storeAway');
      return;
    }
    const isCaughtUp = this.#caughtUpFor === connection;
    const waitMs = this.#deps.costlyUpdates.waitMs(connection.pass.member.id);
    // Judged a second time with the store at hand, it has waited: that refusal has to be said.
    if (waitMs > 0 && !isCaughtUp) {
      this.#changeLater(connection, sent, waitMs);
      return;
    }
    if (sent.kind === 'answer' && this.#hasStrangers(connection, update)) {
      this.#premature.wait(connection, sent, strangersPatienceMs, null);
      return;
    }
    const fits = this.#board.fit(update);
    if (fits === null) {
      void this.#rebase(connection, sent);
      return;
    }
    const at = performance.now();
    const refusal = this.#board.offer(fits, senderOf(connection), {
      connection,
      frames,
      at,
      rebased: false,
    });
    const took = performance.now() - at;
    if (!refusal) {
      this.#deps.costlyUpdates.taken(connection.pass.member.id, took);
      this.#waits.delete(connection);
      this.#asked.delete(connection);
      this.#premature.progressed();
      connection.count({ received: frames });
      return;
    }
    // What only came too soon is paid for once it is refused for good: it is not tried often.
    const isPremature = this.#isPremature(connection, refusal);
    if (!isPremature) this.#deps.costlyUpdates.refused(connection.pass.member.id, took);
    if (this.#peers && !isCaughtUp) void this.#judgeCaughtUp(connection, sent);
    else if (isPremature) this.#changeInTime(connection, sent, refusal);
    else this.#refuse(connection, update, refusal);
  }

  /** Whether some of it is under ids that nobody has shown to be his: colleagues' of the same browser, or the sender's own of earlier. */
  #hasStrangers(connection: Connection, update: Uint8Array): boolean {
    if (!this.#presence.speaks(connection) || isEmpty(update)) return false;
    const { gate } = this.#board;
    const mentions = mentionsIfReadable(update);
    if (!mentions) return false;
    return writersOf(mentions, (id) => gate.reached(id)).some(
      (id) => gate.boundTo(id) === undefined,
    );
  }

  /** The pages of one browser tell each other of an edit before it is here, whoever is signed in there. */
  #isPremature(connection: Connection, { code, awaits }: JudgeRefusal): boolean {
    if ((this.#waits.get(connection) ?? 0) > maxWaitsOfUpdate) return false;
    if (code === 'pending' && this.#asked.has(connection)) return false;
    return [...awaits].some(([id, { isGap }]) => {
      if (this.#presence.speaksFor(connection, id)) return false;
      if (this.#presence.has(id)) return true;
      return !isGap && (this.#presence.ownerOf(id) ?? this.#board.gate.ownerOf(id)) !== null;
    });
  }

  /** Once those whose words it waits for have brought them, or with them (R112). */
  #changeInTime(connection: Connection, sent: Sent, refusal: JudgeRefusal): void {
    this.#waits.set(connection, (this.#waits.get(connection) ?? 0) + 1);
    const patience = refusal.code === 'pending' ? builtOnPatienceMs : othersPatienceMs;
    this.#premature.wait(
      connection,
      sent,
      sent.kind === 'change' ? patience : returnPatienceMs,
      refusal,
    );
  }

  /** What several wrote on each other's words while nobody could bring them here. */
  #changeTogether(group: ReadonlyMap<Connection, Sent>): boolean {
    if (this.#board.isFull) return false;
    const at = performance.now();
    const offers = [...group].map(([connection, { update, frames }]) => ({
      update: this.#board.fit(update),
      sender: senderOf(connection),
      origin: { connection, frames, at, rebased: false },
    }));
    const [first, ...others] = offers.flatMap((offer) =>
      offer.update ? [{ ...offer, update: offer.update }] : [],
    );
    if (!first || others.length + 1 < offers.length) return false;
    const refusal = this.#board.offerTogether([first, ...others]);
    const took = performance.now() - at;
    if (refusal) {
      this.#deps.costlyUpdates.refused(first.sender.memberId, took);
      return false;
    }
    for (const [connection, { frames }] of group) {
      this.#deps.costlyUpdates.taken(connection.pass.member.id, took / group.size);
      this.#waits.delete(connection);
      this.#asked.delete(connection);
      connection.count({ received: frames });
    }
    return true;
  }

  /** Whoever builds on what did not come has it all the same, and is asked once more for all that is new (R112). */
  #outwaited(
    connection: Connection,
    [first, ...rest]: readonly Sent[],
    refusal: JudgeRefusal | null,
  ): void {
    if (!first) return;
    if (refusal === null) {
      this.#hearAgain(connection, [{ ...first, kind: 'lateAnswer' }, ...rest]);
      return;
    }
    if (refusal.code !== 'pending') {
      this.#refuse(connection, first.update, refusal);
      return;
    }
    this.#asked.add(connection);
    const early = this.#earlyOf(connection, builtOnPatienceMs);
    this.#early.set(connection, early);
    for (const { update, frames } of [first, ...rest]) early.keep(update, frames);
    connection.send(pack(askFrame(this.#board.stateVector)));
  }

  /** What he wrote before took long to judge: the others come first (R76). */
  #changeLater(connection: Connection, sent: Sent, waitMs: number): void {
    const bytes = sent.update.byteLength;
    const waitsNoMore = this.#deps.costlyUpdates.keep(connection.pass.member.id, bytes);
    if (!waitsNoMore) {
      this.#turnAway(connection, 'tooMany', 'edits while earlier ones are paid for');
      return;
    }
    const release = connection.hold();
    const timer = setTimeout(() => {
      forget();
      waitsNoMore();
      // Ahead of what came after it, which the release hands over.
      this.#later(connection, () => this.#change(connection, sent));
      release();
    }, waitMs);
    const forget = connection.onEnd(() => {
      clearTimeout(timer);
      waitsNoMore();
    });
  }

  /**
   * Nobody is refused for what this server lacks: a coach who comes from another one may bring what only
   * that one had until now. The store has it, and is asked before a refusal stands (R101).
   */
  async #judgeCaughtUp(connection: Connection, sent: Sent): Promise<void> {
    const release = connection.hold();
    try {
      await this.#board.catchingUp.now();
      this.#later(connection, () => this.#changeCaughtUp(connection, sent));
    } catch {
      // The reading itself has told why.
      connection.refuse('storeAway');
    } finally {
      release();
    }
  }

  #changeCaughtUp(connection: Connection, sent: Sent): void {
    this.#caughtUpFor = connection;
    try {
      this.#change(connection, sent);
    } finally {
      this.#caughtUpFor = null;
    }
  }

  /**
   * He wrote on the board as it was before the packing. What that comes to on the whole board is written
   * here in his name; then he has to open the board afresh, and nothing more is read of this copy (R86).
   */
  async #rebase(connection: Connection, sent: Sent): Promise<void> {
    const release = connection.hold();
    let isFresh = true;
    try {
      await this.#board.catchingUp.now();
      const whole = await this.#whole.fresh();
      this.#later(connection, () => {
        // Where his access was in question (R51), others have written since the board was read.
        if (isFresh) this.#rebaseOn(whole, connection, sent);
        else void this.#rebase(connection, sent);
      });
    } catch (error) {
      this.#storeAway(connection, error);
    } finally {
      release();
      isFresh = false;
    }
  }

  #rebaseOn(whole: WholeBoard, connection: Connection, { update, frames }: Sent): void {
    connection.hold();
    const origin = { connection, frames, at: performance.now(), rebased: true };
    const answer = this.#board.offerRebased(update, whole, senderOf(connection), origin);
    if (answer !== null && answer !== 'nothing') {
      this.#refuse(connection, update, answer);
      return;
    }
    connection.count({ received: frames });
    if (answer === 'nothing') void this.#rebasedBefore(connection, frames);
  }

  /** He brought it back before, or what he did has been done. */
  async #rebasedBefore(connection: Connection, frames: number): Promise<void> {
    await this.#board.settled();
    try {
      connection.count({ durable: frames });
      this.#sendSaved(connection);
      connection.refuse('outdatedCopy');
    } catch (error) {
      this.#fault(connection, error);
    }
  }

  #refuse(
    connection: Connection,
    update: Uint8Array,
    { code, why, mend, names }: JudgeRefusal,
  ): void {
    const refused = { code, why, mend, elements: [...names] };
    connection.send(pack(encodeMessage({ type: 'refused', refused })));
    this.#deps.metrics.editRefused(code);
    this.#deps.metrics.ended('refusedEdit');
    connection.close(code === 'tooLarge' ? close.tooLarge : close.refused, `refused: ${code}`);
    this.#deps.quarantine.keep(
      {
        boardId: this.boardId,
        memberId: connection.pass.member.id,
        code,
        why,
        bytes: update,
        at: this.#deps.now(),
      },
      connection.requestId,
    );
  }

  /** Accepted here, and another server was first with what it does not fit (R101). */
  #refuseLate(origin: Origin, update: Uint8Array, refusal: JudgeRefusal): void {
    if (origin.connection) this.#refuse(origin.connection, update, refusal);
    else origin.outcome = { kind: 'refused', why: refusal.why, mend: refusal.mend };
  }

  #turnAway(connection: Connection, refusal: Refusal, why: string): void {
    this.#deps.note('turned away', {
      requestId: connection.requestId,
      board: this.boardId,
      member: connection.pass.member.id,
      refusal,
      why,
    });
    connection.refuse(refusal);
  }

  /** At once, and not at the end of the turn: taking it over here takes as long as it is under way. */
  #committed(origins: readonly Origin[], bytes: Uint8Array): void {
    this.#passOn(bytes, new Set(origins.map(({ connection }) => connection)));
    this.#deps.outbox.flush();
  }

  /** Who made all of it has it already. */
  #passOn(bytes: Uint8Array, makers: ReadonlySet<Connection | null>): void {
    const frame = pack(updateFrame(bytes));
    const [only] = makers;
    for (const connection of this.#connections)
      if (makers.size !== 1 || connection !== only) connection.send(frame);
  }

  /** It is durable and taken over here: its makers hear that it is saved, and the others of what others wrote. */
  #durable(origins: readonly Origin[], change: DurableChange | null): void {
    for (const origin of origins) {
      if (origin.connection) origin.connection.count({ durable: origin.frames });
      else origin.outcome = { kind: 'made' };
    }
    const makers = new Set(origins.map(({ connection }) => connection));
    if (change) {
      if (change.commit) {
        const accepted = origins.flatMap((origin) => (origin.connection ? origin.at : []));
        this.#deps.metrics.saved(change.updates, accepted);
      } else this.#passOn(change.bytes, makers);
      for (const connection of this.#connections)
        if (!makers.has(connection)) this.#savedDue.add(connection);
      this.#savedTimer ??= setTimeout(() => this.#sendSavedDue(), savedForOthersMs);
      this.#rules.soon();
      if (!change.commit) this.#premature.progressed();
    }
    for (const maker of makers) if (maker) this.#sendSaved(maker);
    for (const origin of origins)
      if (origin.connection && origin.rebased) origin.connection.refuse('outdatedCopy');
    if (change) this.#folding.note(change);
    if (change?.commit) this.#peers?.committed(change.commit);
    this.#setBehind(false);
    this.#noteRest();
  }

  #sendSaved(connection: Connection): void {
    this.#savedDue.delete(connection);
    const { stateVector } = this.#board;
    const updates = connection.durable;
    connection.send(pack(encodeMessage({ type: 'saved', stateVector, updates })));
  }

  #sendSavedDue(): void {
    this.#savedTimer = null;
    for (const connection of [...this.#savedDue]) this.#sendSaved(connection);
  }

  #setBehind(isBehind: boolean): void {
    if (this.#isBehind === isBehind) return;
    this.#isBehind = isBehind;
    this.#send(behindFrame(isBehind));
  }

  #send(frame: Packed): void {
    for (const connection of this.#connections) connection.send(frame);
  }

  #closeAll(why: Refusal): void {
    for (const connection of this.#connections) connection.refuse(why);
  }
}

const behindFrame = (behind: boolean): Packed =>
  pack(encodeMessage({ type: 'event', event: { kind: 'saving', behind } }));

const serversAwayFrame = pack(
  encodeMessage({ type: 'event', event: { kind: 'servers', away: true } }),
);

const senderOf = ({ pass: { member, scope } }: Connection): Sender => ({
  memberId: member.id,
  name: member.name,
  scope,
});

function helloOf({ member, scope }: Pass): Hello {
  return {
    documentVersion,
    member,
    mayEdit: scope.kind !== 'none',
    positions: scope.kind === 'all' ? null : scope.kind === 'positions' ? [...scope.positions] : [],
  };
}
