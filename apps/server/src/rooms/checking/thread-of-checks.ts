import { Worker } from 'node:worker_threads';
import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
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

interface Job {
  id: number;
  room: CheckedRoom;
  play: RuledPlay;
  looks: readonly LookRecipe[];
  done: (findings: readonly Finding[]) => void;
  failed: (error: Error) => void;
}

export interface ThreadDeps {
  patienceMs: number;
  script?: URL;
}

/** What one thread may hold, MiB: a check that needs more ends it, and not the server. */
const maxHeapMb = 768;
/** A thread that takes longer to begin never will, milliseconds. */
const beginsWithinMs = 30_000;
const ownScript = new URL('./thread.mjs', import.meta.url);

/** One worker thread that checks plays, one after another. */
export class Thread {
  readonly #worker: Worker;
  readonly #patienceMs: number;
  /** The first is under way. */
  readonly #jobs: Job[] = [];
  readonly #told = new Told();
  #count = 0;
  #isReady = false;
  #ended: ThreadEnded | null = null;
  #late: NodeJS.Timeout | null = null;

  constructor({ patienceMs, script = ownScript }: ThreadDeps) {
    this.#patienceMs = patienceMs;
    this.#worker = new Worker(script, {
      execArgv: [],
      resourceLimits: { maxOldGenerationSizeMb: maxHeapMb },
    });
    // It is the server's to keep the process alive, not its helpers'.
    this.#worker.unref();
    this.#worker.on('message', (said: Said) => this.#hear(said));
    this.#worker.once('error', (error) => this.#end(String(error)));
    this.#worker.once('exit', (code) => this.#end(`it exited with code ${code}`));
  }

  get waiting(): number {
    return this.#jobs.length;
  }

  check(
    room: CheckedRoom,
    play: RuledPlay,
    looks: readonly LookRecipe[],
  ): Promise<readonly Finding[]> {
    return new Promise((done, failed) => {
      if (this.#ended) {
        failed(this.#ended);
        return;
      }
      this.#count += 1;
      this.#jobs.push({ id: this.#count, room, play, looks, done, failed });
      if (this.#jobs.length === 1) this.#next();
    });
  }

  /** Whatever of the room still waits here is not begun any more: the thread would remember it for ever. */
  forget(room: CheckedRoom): void {
    if (this.#ended) return;
    const [underWay, ...waiting] = this.#jobs.splice(0);
    if (underWay) this.#jobs.push(underWay);
    for (const job of waiting) {
      if (job.room.boardId === room.boardId)
        job.failed(new Error('the board is not checked any more'));
      else this.#jobs.push(job);
    }
    const known = this.#told.forget(room);
    if (known) this.#post({ kind: 'forget', room, isLast: known === 'last' });
  }

  async end(): Promise<void> {
    this.#end('the rooms close');
    await this.#worker.terminate();
  }

  #next(): void {
    if (this.#late) clearTimeout(this.#late);
    this.#late = null;
    const [job] = this.#jobs;
    if (!job) return;
    const { id, room, play } = job;
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
      const [waiting] = this.#jobs;
      if (waiting) this.#watch(waiting);
      return;
    }
    const [job] = this.#jobs;
    if (job?.id !== said.id) return;
    this.#jobs.shift();
    if (said.kind === 'checked') job.done(said.findings);
    else job.failed(new Error(`the rule check failed: ${said.why}`));
    this.#next();
  }

  #end(why: string): void {
    if (this.#ended) return;
    this.#ended = new ThreadEnded(why, this.#isReady);
    if (this.#late) clearTimeout(this.#late);
    for (const { failed } of this.#jobs.splice(0)) failed(this.#ended);
  }
}
