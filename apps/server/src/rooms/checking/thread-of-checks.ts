import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { built, mapped } from '../../built.ts';
import type { Ask, Said } from './desk.ts';
import { type CheckedRoom, Told } from './told.ts';

/** The thread is gone, and with it whatever waited for it. */
export class ThreadEnded extends Error {
  /** False: it never began to work. */
  readonly wasReady: boolean;

  constructor(why: string, wasReady: boolean) {
    super(why);
    this.wasReady = wasReady;
  }
}

/** `isUrgent`: somebody waits for the check, so it goes before the others and waits for no pause. */
export interface Urgency {
  isUrgent?: boolean;
}

interface Job {
  id: number;
  room: CheckedRoom;
  play: RuledPlay;
  looks: readonly LookRecipe[];
  isUrgent: boolean;
  done: (findings: readonly Finding[]) => void;
  failed: (error: Error) => void;
}

export interface ThreadDeps {
  patienceMs: number;
  script?: URL;
}

/** What one thread may hold, MiB: a check that needs more ends it, and not the server. */
const maxHeapMb = 768;
/**
 * Of that for what has just been made, MiB. V8 would let a thread have 48; a meeting's checks cost no more
 * with a quarter of it, and fewer pages stay resident.
 */
const maxYoungHeapMb = 12;
/** A thread that takes longer to begin never will, milliseconds. */
const beginsWithinMs = 30_000;
const ownScript = pathToFileURL(built('rule-check-thread'));

/** The part of its time that a thread checks, at most: with many boards at work the rest is for their edits. */
const share = 1 / 8;
/** However long a check took, the next waits no longer after it, milliseconds. */
const longestPauseMs = 1_000;

/** One worker thread that checks plays, one after another, with a pause after each. */
export class Thread {
  /** Boards that were given to it and are not forgotten. */
  boards = 0;
  readonly #worker: Worker;
  readonly #patienceMs: number;
  /** Those not begun. */
  #jobs: Job[] = [];
  #underWay: { job: Job; begun: number } | null = null;
  #pauseUntil = 0;
  #pause: NodeJS.Timeout | null = null;
  readonly #told = new Told();
  #count = 0;
  #isReady = false;
  #ended: ThreadEnded | null = null;
  #late: NodeJS.Timeout | null = null;

  constructor({ patienceMs, script = ownScript }: ThreadDeps) {
    this.#patienceMs = patienceMs;
    this.#worker = new Worker(script, {
      execArgv: [mapped],
      resourceLimits: {
        maxOldGenerationSizeMb: maxHeapMb,
        maxYoungGenerationSizeMb: maxYoungHeapMb,
      },
    });
    // It is the server's to keep the process alive, not its helpers'.
    this.#worker.unref();
    this.#worker.on('message', (said: Said) => this.#hear(said));
    this.#worker.once('error', (error) => this.#end(String(error)));
    this.#worker.once('exit', (code) => this.#end(`it exited with code ${code}`));
  }

  get waiting(): number {
    return this.#jobs.length + (this.#underWay ? 1 : 0);
  }

  check(
    room: CheckedRoom,
    play: RuledPlay,
    looks: readonly LookRecipe[],
    { isUrgent = false }: Urgency = {},
  ): Promise<readonly Finding[]> {
    return new Promise((done, failed) => {
      if (this.#ended) {
        failed(this.#ended);
        return;
      }
      this.#count += 1;
      const job = { id: this.#count, room, play, looks, isUrgent, done, failed };
      if (isUrgent) this.#jobs.unshift(job);
      else this.#jobs.push(job);
      this.#next();
    });
  }

  /** Whatever of the room still waits here is not begun any more: the thread would remember it for ever. */
  forget(room: CheckedRoom): void {
    if (this.#ended) return;
    const isOf = (job: Job): boolean => job.room.boardId === room.boardId;
    const given = this.#jobs.filter(isOf);
    this.#jobs = this.#jobs.filter((job) => !isOf(job));
    for (const job of given) job.failed(new Error('the board is not checked any more'));
    const known = this.#told.forget(room);
    if (known) this.#post({ kind: 'forget', room, isLast: known === 'last' });
  }

  async end(why: string): Promise<void> {
    this.#end(why);
    await this.#worker.terminate();
  }

  #next(): void {
    const [first] = this.#jobs;
    if (this.#underWay || !first) return;
    if (this.#pause) clearTimeout(this.#pause);
    this.#pause = null;
    const left = this.#pauseUntil - performance.now();
    if (left > 0 && !first.isUrgent) this.#pause = setTimeout(() => this.#next(), left);
    else this.#begin(first);
  }

  #begin(job: Job): void {
    this.#jobs.shift();
    const { id, room, play } = job;
    this.#underWay = { job, begun: performance.now() };
    this.#post({ kind: 'check', id, room, play, looks: this.#told.news(room, job.looks) });
    this.#watch(job);
  }

  #post(ask: Ask): void {
    this.#worker.postMessage(ask);
  }

  /** A slow start is no slow check: the patience with a check begins when its thread has begun. */
  #watch({ room: { boardId } }: Job): void {
    if (this.#late) clearTimeout(this.#late);
    const ms = this.#isReady ? this.#patienceMs : Math.max(beginsWithinMs, this.#patienceMs);
    this.#late = setTimeout(() => {
      this.#end(`a check of board ${boardId} took longer than ${ms} ms`);
      void this.#worker.terminate();
    }, ms);
  }

  #hear(said: Said): void {
    if (said.kind === 'ready') {
      this.#isReady = true;
      if (this.#underWay) {
        this.#underWay.begun = performance.now();
        this.#watch(this.#underWay.job);
      }
      return;
    }
    if (this.#underWay?.job.id !== said.id) return;
    const { job, begun } = this.#underWay;
    this.#underWay = null;
    if (this.#late) clearTimeout(this.#late);
    const now = performance.now();
    this.#pauseUntil = now + Math.min((now - begun) * (1 / share - 1), longestPauseMs);
    if (said.kind === 'checked') job.done(said.findings);
    else job.failed(new Error(`the rule check failed: ${said.why}`));
    this.#next();
  }

  #end(why: string): void {
    if (this.#ended) return;
    this.#ended = new ThreadEnded(why, this.#isReady);
    if (this.#late) clearTimeout(this.#late);
    if (this.#pause) clearTimeout(this.#pause);
    const given = [...(this.#underWay ? [this.#underWay.job] : []), ...this.#jobs];
    this.#underWay = null;
    this.#jobs = [];
    for (const { failed } of given) failed(this.#ended);
  }
}
