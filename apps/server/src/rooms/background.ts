type OnFailure = (error: unknown, what: string, boardId: string) => void;

/**
 * Work that nobody waits for, until the end: kept so that it can be waited for then, and tried again
 * until it succeeds or the room's end aborts it.
 */
export class Background {
  readonly #running = new Set<Promise<void>>();
  readonly #onFailure: OnFailure;
  readonly #end = new AbortController();

  constructor(onFailure: OnFailure) {
    this.#onFailure = onFailure;
  }

  /** Runs it once; a failure is reported. */
  once(what: string, boardId: string, work: () => Promise<void>): void {
    const run = work()
      .catch((error: unknown) => this.#onFailure(error, what, boardId))
      .finally(() => this.#running.delete(run));
    this.#running.add(run);
  }

  /** Runs it until it succeeds, with growing pauses; every failure is reported. */
  untilDone(what: string, boardId: string, work: () => Promise<void>): void {
    this.once(what, boardId, async () => {
      for (let wait = 100; !this.#end.signal.aborted; wait = Math.min(wait * 2, 5_000)) {
        try {
          return await work();
        } catch (error) {
          this.#onFailure(error, what, boardId);
        }
        await pauseUntil(wait, this.#end.signal);
      }
    });
  }

  /** Resolves when what was begun by now is over, and what that began: other servers may bring more for ever. */
  async settled(): Promise<void> {
    await Promise.all(this.#running);
    await Promise.all(this.#running);
  }

  /** What has not succeeded is not tried again. */
  end(): void {
    this.#end.abort();
  }
}

/** Resolves after `ms`, or as soon as the signal says so. */
function pauseUntil(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    signal.addEventListener('abort', end);
    if (signal.aborted) end();
  });
}
