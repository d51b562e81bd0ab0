import type { Background } from '../background.ts';

export interface CatchingUpDeps {
  boardId: string;
  background: Background;
  /** The revision that the room stands on. */
  revision: () => number;
  /** An append is in the log's hands: what it was judged on must not move before it is answered. */
  isWriting: () => boolean;
  /** Reads what is newer in the store, and takes it. */
  read: () => Promise<void>;
  /** A read is over: what waited for it may be written. */
  onRead: () => void;
}

interface Waiting {
  done: () => void;
  failed: (error: unknown) => void;
}

const closed = (): Error => new Error('the room is closed');

/** Brings a room to what other servers have made durable: one read at a time, tried until it succeeds. */
export class CatchingUp {
  readonly #deps: CatchingUpDeps;
  #isDue = false;
  #isReading = false;
  #isClosed = false;
  /** For whom the next read is, and the one under way. */
  #waiting: Waiting[] = [];

  constructor(deps: CatchingUpDeps) {
    this.#deps = deps;
  }

  /** Nothing may be appended meanwhile. */
  get isReading(): boolean {
    return this.#isReading;
  }

  /** There is, or may be, something newer. */
  due(): void {
    this.#isDue = true;
    this.begin();
  }

  /** The board is said to be at this revision. */
  heard(revision: number): void {
    if (revision > this.#deps.revision()) this.due();
  }

  /** Resolves when everything durable by now is here; rejects when the store cannot be asked, or is not asked any more. */
  now(): Promise<void> {
    if (this.#isClosed) return Promise.reject(closed());
    return new Promise((done, failed) => {
      this.#waiting.push({ done, failed });
      this.due();
    });
  }

  /** Begins what is due, unless it has to wait. */
  begin(): void {
    if (!this.#isDue || this.#isReading || this.#isClosed || this.#deps.isWriting()) return;
    this.#isDue = false;
    this.#isReading = true;
    this.#deps.background.untilDone('catch up with other servers', this.#deps.boardId, async () => {
      const waiting = this.#waiting.splice(0);
      try {
        if (!this.#isClosed) await this.#deps.read();
      } catch (error) {
        for (const { failed } of waiting) failed(error);
        throw error;
      }
      for (const { done } of waiting) done();
      this.#isReading = false;
      if (this.#isClosed) return;
      this.begin();
      if (!this.#isReading) this.#deps.onRead();
    });
  }

  close(): void {
    this.#isClosed = true;
    for (const { failed } of this.#waiting.splice(0)) failed(closed());
  }
}
