import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { Desk } from './desk.ts';
import { Thread, ThreadEnded } from './thread-of-checks.ts';

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
  /** The script a thread runs; another one only in tests. */
  script?: URL;
}

/** Too many checks wait: ask again later. */
export class TooManyChecks extends Error {}

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
  /** With which looks a room was checked last, and on which thread, so that they cross once. */
  readonly #looksOf = new Map<string, { looks: readonly LookRecipe[]; by: Thread | Desk }>();
  /** Checks here when no thread can be had, and until when none is tried. */
  #here: { desk: Desk; until: number } | null = null;
  #closed = false;

  constructor(deps: CheckerDeps) {
    this.#deps = deps;
  }

  async check(
    room: string,
    play: RuledPlay,
    looks: readonly LookRecipe[],
  ): Promise<readonly Finding[]> {
    const asked = performance.now();
    const findings = await this.#check(room, play, looks, 2);
    this.#deps.onChecked?.(performance.now() - asked);
    return findings;
  }

  forget(room: string): void {
    this.#threadOf.get(room)?.forget(room);
    this.#here?.desk.forget(room);
    this.#threadOf.delete(room);
    this.#looksOf.delete(room);
  }

  async close(): Promise<void> {
    this.#closed = true;
    await Promise.all(this.#threads.splice(0).map((thread) => thread.end()));
  }

  /** `tries`: a thread that dies under a check may not be this check's fault. */
  async #check(
    room: string,
    play: RuledPlay,
    looks: readonly LookRecipe[],
    tries: number,
  ): Promise<readonly Finding[]> {
    if (this.#closed) throw new Error('the rule check has ended');
    if (this.#here && this.#here.until > performance.now())
      return this.#checkHere(room, play, looks);
    const thread = this.#threadFor(room);
    if (thread.waiting >= this.#deps.maxWaiting) {
      throw new TooManyChecks(`${thread.waiting} checks wait already`);
    }
    try {
      return await thread.check(room, play, this.#news(room, looks, thread));
    } catch (error) {
      if (!(error instanceof ThreadEnded) || this.#closed) throw error;
      this.#lost(thread);
      const { wasReady } = error;
      this.#deps.note('a thread of the rule check ended', {
        board: room,
        why: error.message,
        wasReady,
      });
      if (!wasReady) {
        const until = performance.now() + triedAgainMs;
        this.#here = { desk: this.#here?.desk ?? new Desk(), until };
        return this.#checkHere(room, play, looks);
      }
      if (tries <= 1) throw error;
      return this.#check(room, play, looks, tries - 1);
    }
  }

  /** On the server's own event loop: late edits are better than no findings. */
  #checkHere(room: string, play: RuledPlay, looks: readonly LookRecipe[]): readonly Finding[] {
    const desk = this.#here?.desk ?? new Desk();
    this.#deps.note('the rule check runs on the event loop: no thread can be had', { board: room });
    const news = this.#news(room, looks, desk);
    return desk.check({ kind: 'check', id: 0, room, play, looks: news });
  }

  /** The looks when whoever checks does not have them yet. */
  #news(
    room: string,
    looks: readonly LookRecipe[],
    by: Thread | Desk,
  ): readonly LookRecipe[] | null {
    const known = this.#looksOf.get(room);
    if (known?.looks === looks && known.by === by) return null;
    this.#looksOf.set(room, { looks, by });
    return looks;
  }

  #threadFor(room: string): Thread {
    const known = this.#threadOf.get(room);
    if (known) return known;
    const free = this.#threads.find((thread) => thread.waiting === 0);
    const thread = free ?? this.#begin() ?? this.#leastAsked();
    this.#threadOf.set(room, thread);
    return thread;
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
    const at = this.#threads.indexOf(thread);
    if (at >= 0) this.#threads.splice(at, 1);
    for (const [room, its] of this.#threadOf) if (its === thread) this.#threadOf.delete(room);
  }
}
