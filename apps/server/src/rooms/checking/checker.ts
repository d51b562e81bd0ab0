import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { Desk } from './desk.ts';
import { Thread, ThreadEnded, type Urgency } from './thread-of-checks.ts';
import { type CheckedRoom, Told } from './told.ts';

export interface CheckerDeps {
  /** Threads at most; the second begins when rooms come that the first does not have. */
  threads: number;
  /** Checks that may wait for one thread. */
  maxWaiting: number;
  /** A check that takes longer costs its thread, milliseconds. */
  patienceMs: number;
  note: (what: string, details: Record<string, unknown>) => void;
  /** How long a check took from being asked for, milliseconds. */
  onChecked?: (ms: number) => void;
  /** How long a thread is kept that remembers no board and has nothing to do, milliseconds. */
  keepMs: number;
  /** The script a thread runs; another one only in tests. */
  script?: URL;
}

/** Too many checks wait: ask again later. */
export class TooManyChecks extends Error {}

/** The server ends, and a check under way with it: nothing has failed. */
export class CheckingEnded extends Error {
  constructor() {
    super('the rule check has ended');
  }
}

/** A thread that never said that it is there is tried again after this long. */
const triedAgainMs = 60_000;

/**
 * Runs the rule check off the server's event loop, so that a long card of one room delays nobody's
 * edits. A room keeps its thread, where its last check is remembered. Where no thread can be had the
 * check runs here, and the log says so. SPEC R64.
 */
export class Checker {
  readonly #deps: CheckerDeps;
  readonly #threads: Thread[] = [];
  readonly #threadOf = new Map<string, Thread>();
  /** Those that may not be needed any more. */
  readonly #ending = new Map<Thread, NodeJS.Timeout>();
  /** Checks here when no thread can be had, and until when none is tried. */
  #here: { desk: Desk; told: Told; until: number } | null = null;
  #closed = false;

  constructor(deps: CheckerDeps) {
    this.#deps = deps;
  }

  /** Boards that a thread remembers. */
  get size(): number {
    return this.#threadOf.size;
  }

  async check(
    room: CheckedRoom,
    play: RuledPlay,
    looks: readonly LookRecipe[],
    urgency: Urgency = {},
  ): Promise<readonly Finding[]> {
    const asked = performance.now();
    const findings = await this.#check(room, play, looks, urgency, 2);
    this.#deps.onChecked?.(performance.now() - asked);
    return findings;
  }

  /** What its checks have shown, and the looks of its staff with its last room, are given up. */
  forget(room: CheckedRoom): void {
    const thread = this.#threadOf.get(room.boardId);
    thread?.forget(room);
    if (this.#threadOf.delete(room.boardId) && thread) {
      thread.boards -= 1;
      this.#endLater(thread);
    }
    const known = this.#here?.told.forget(room);
    if (known) this.#here?.desk.forget({ kind: 'forget', room, isLast: known === 'last' });
  }

  async close(): Promise<void> {
    this.#closed = true;
    for (const timer of this.#ending.values()) clearTimeout(timer);
    this.#ending.clear();
    await Promise.all(this.#threads.splice(0).map((thread) => thread.end('the rooms close')));
  }

  /** `tries`: a thread that dies under a check may not be this check's fault. */
  async #check(
    room: CheckedRoom,
    play: RuledPlay,
    looks: readonly LookRecipe[],
    urgency: Urgency,
    tries: number,
  ): Promise<readonly Finding[]> {
    if (this.#closed) throw new CheckingEnded();
    if (this.#here && this.#here.until > performance.now())
      return this.#checkHere(room, play, looks);
    const thread = this.#threadFor(room);
    if (thread.waiting >= this.#deps.maxWaiting) {
      throw new TooManyChecks(`${thread.waiting} checks wait already`);
    }
    try {
      return await thread.check(room, play, looks, urgency);
    } catch (error) {
      if (this.#closed) throw new CheckingEnded();
      if (!(error instanceof ThreadEnded)) throw error;
      this.#lost(thread);
      const { wasReady } = error;
      this.#deps.note('a thread of the rule check ended', {
        board: room.boardId,
        why: error.message,
        wasReady,
      });
      // Forgotten meanwhile: asked again it would be remembered for ever.
      if (!this.#threadOf.has(room.boardId)) throw error;
      if (!wasReady) {
        const { desk, told } = this.#here ?? { desk: new Desk(), told: new Told() };
        this.#here = { desk, told, until: performance.now() + triedAgainMs };
        return this.#checkHere(room, play, looks);
      }
      if (tries <= 1) throw error;
      return this.#check(room, play, looks, urgency, tries - 1);
    }
  }

  /** On the server's own event loop: late edits are better than no findings. */
  #checkHere(room: CheckedRoom, play: RuledPlay, looks: readonly LookRecipe[]): readonly Finding[] {
    if (!this.#here) throw new Error('a thread can be had');
    const { desk, told } = this.#here;
    this.#deps.note('the rule check runs on the event loop: no thread can be had', {
      board: room.boardId,
    });
    return desk.check({ kind: 'check', id: 0, room, play, looks: told.news(room, looks) });
  }

  #threadFor({ boardId }: CheckedRoom): Thread {
    const known = this.#threadOf.get(boardId);
    if (known && this.#threads.includes(known)) return known;
    const free = this.#threads.find((thread) => thread.waiting === 0);
    const thread = free ?? this.#begin() ?? this.#leastAsked();
    this.#threadOf.set(boardId, thread);
    thread.boards += 1;
    this.#goesOn(thread);
    return thread;
  }

  /** While nobody works a thread is tens of megabytes for nothing; the next one is there in a moment. */
  #endLater(thread: Thread): void {
    this.#goesOn(thread);
    if (this.#closed || thread.boards > 0) return;
    const end = (): void => {
      this.#ending.delete(thread);
      // What it still does is for a board that is gone.
      if (thread.waiting > 0) this.#endLater(thread);
      else {
        this.#lost(thread);
        void thread.end('nothing is left to be checked');
      }
    };
    this.#ending.set(thread, setTimeout(end, this.#deps.keepMs).unref());
  }

  #goesOn(thread: Thread): void {
    clearTimeout(this.#ending.get(thread));
    this.#ending.delete(thread);
  }

  #begin(): Thread | null {
    if (this.#threads.length >= this.#deps.threads) return null;
    const thread = new Thread(this.#deps);
    this.#threads.push(thread);
    return thread;
  }

  #leastAsked(): Thread {
    const [first, ...others] = this.#threads;
    if (!first) throw new Error('the rule check may have no thread at all');
    return others.reduce((least, one) => (one.waiting < least.waiting ? one : least), first);
  }

  #lost(thread: Thread): void {
    this.#goesOn(thread);
    const at = this.#threads.indexOf(thread);
    if (at >= 0) this.#threads.splice(at, 1);
  }
}
