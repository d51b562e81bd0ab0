import { behindAfterMs } from '@stemline/protocol/limits';
import type { RoomLimits } from './limits.ts';
import type { Appended, BoardAppend, BoardStore } from './store.ts';

/** A room as the log sees it. */
export interface Writer {
  readonly boardId: string;
  /** What waits for a commit, or null; the room hands it over and adds nothing to it. */
  gather(): BoardAppend | null;
  /** Its last gathered append is durable; `last` is the id of its last update. */
  committed(appended: { last: bigint; revision: number }): void;
  /** Nothing of its last gathered append was written: another server was first. */
  stale(): void;
  /** What it wants to commit failed and will be tried again, or is not answered for long. */
  behind(): void;
  /** The store has no such board any more. */
  gone(): void;
  /** It failed to take note of its own commit. */
  broken(error: unknown): void;
}

export interface LogDeps {
  store: Pick<BoardStore, 'append'>;
  limits: Pick<RoomLimits, 'batchMs'>;
  onFailure: (error: unknown, boards: readonly string[]) => void;
  /** Before a commit is put together: whatever else this turn of the loop brought need not wait for that. */
  onTurn?: () => void;
}

const firstPauseMs = 50;
const longestPauseMs = 2_000;
/** So many boards failing one after the other, none succeeding, mean that the store is away. */
const enoughToTell = 3;

/** From so many updates in one commit on, the next waits the whole of `batchMs` for more to come together. */
const manyUpdates = 8;

/** Bytes of updates in one statement, unless one board alone has more. */
const maxCommitBytes = 4_194_304;

const bytesOf = (append: BoardAppend | undefined): number =>
  append?.updates.reduce((sum, { bytes }) => sum + bytes.byteLength, 0) ?? 0;

interface Held {
  append: BoardAppend;
  /** It failed where others succeeded: tried alone, and not before this time. */
  suspectUntil: number | null;
}

/**
 * Commits what the rooms of this process accept: one commit at a time, for all of them together
 * (R7), in each room's order (R3), again and again until it succeeds (R5).
 */
export class Log {
  readonly #deps: LogDeps;
  /** Rooms with something new. */
  readonly #ready = new Set<Writer>();
  /** Gathered and not durable: one for a room, so that nothing overtakes it. */
  readonly #held = new Map<Writer, Held>();
  #running: Promise<void> | null = null;
  #stopped = false;
  #pauseMs = firstPauseMs;
  #wake: (() => void) | null = null;

  constructor(deps: LogDeps) {
    this.#deps = deps;
  }

  /** This room has something to commit. */
  wants(writer: Writer): void {
    if (this.#stopped) return;
    this.#ready.add(writer);
    this.#wake?.();
    this.#running ??= this.#run();
  }

  /** Resolves when everything wanted so far is durable. */
  async idle(): Promise<void> {
    while (this.#running) await this.#running;
  }

  /** Gives up what is not durable; only the end of the process may. */
  stop(): void {
    this.#stopped = true;
    this.#ready.clear();
    this.#held.clear();
    this.#wake?.();
  }

  async #run(): Promise<void> {
    try {
      while (!this.#stopped && this.#ready.size + this.#held.size > 0) await this.#next();
    } finally {
      // In the very step that found nothing more: what is wanted after it begins anew, and waits for nobody else.
      this.#running = null;
    }
  }

  async #next(): Promise<void> {
    // Everything read in this turn of the loop belongs to one commit.
    await new Promise(setImmediate);
    this.#deps.onTurn?.();
    const begun = performance.now();
    this.#gather();
    const share = Math.min(1, this.#updatesHeld / manyUpdates);
    if (await this.#round()) {
      this.#pauseMs = firstPauseMs;
      const sinceBegun = performance.now() - begun;
      await this.#rest(this.#deps.limits.batchMs * share - sinceBegun, false);
      if (this.#onlySuspects()) await this.#rest(longestPauseMs, true);
    } else {
      await this.#rest(this.#pauseMs, false);
      this.#pauseMs = Math.min(this.#pauseMs * 2, longestPauseMs);
    }
  }

  get #updatesHeld(): number {
    let count = 0;
    for (const { append } of this.#held.values()) count += append.updates.length;
    return count;
  }

  #gather(): void {
    for (const writer of this.#ready) {
      if (this.#held.has(writer)) continue;
      this.#ready.delete(writer);
      const append = writer.gather();
      if (append) this.#held.set(writer, { append, suspectUntil: null });
    }
  }

  /** One commit for all, then the suspects each alone; false: the store is away. */
  async #round(): Promise<boolean> {
    const now = performance.now();
    const entries = [...this.#held];
    const main = entries.filter(([, held]) => held.suspectUntil === null).map(([writer]) => writer);
    for (const group of this.#groupsOf(main)) {
      if (!(await this.#try(group)) && !(await this.#findCulprits(group))) return false;
    }
    for (const [writer, held] of entries) {
      if (held.suspectUntil === null || held.suspectUntil > now) continue;
      if (!(await this.#try([writer]))) held.suspectUntil = performance.now() + longestPauseMs;
    }
    return true;
  }

  /** As many together as one statement carries well: after an outage much may have gathered. */
  #groupsOf(writers: readonly Writer[]): Writer[][] {
    const groups: Writer[][] = [];
    let room = 0;
    for (const writer of writers) {
      const bytes = bytesOf(this.#held.get(writer)?.append);
      if (bytes > room || groups.length === 0) {
        groups.push([]);
        room = maxCommitBytes;
      }
      groups.at(-1)?.push(writer);
      room -= bytes;
    }
    return groups;
  }

  /** What the database takes amiss in one board must not hold up the others. */
  async #findCulprits(writers: readonly Writer[]): Promise<boolean> {
    if (writers.length === 1) return false;
    const failed: Writer[] = [];
    let succeeded = 0;
    for (const writer of writers) {
      if (await this.#try([writer])) succeeded += 1;
      else failed.push(writer);
      if (succeeded === 0 && failed.length === enoughToTell) break;
    }
    for (const writer of failed) {
      const held = this.#held.get(writer);
      if (!held) continue;
      if (succeeded > 0) held.suspectUntil = performance.now() + longestPauseMs;
      // Others are asked first the next time.
      this.#held.delete(writer);
      this.#held.set(writer, held);
    }
    return succeeded > 0;
  }

  async #try(writers: readonly Writer[]): Promise<boolean> {
    const appends = writers.flatMap((writer) => this.#held.get(writer)?.append ?? []);
    if (appends.length === 0) return true;
    let written: ReadonlyMap<string, Appended>;
    const late = setInterval(() => this.#tellWhoWaits(), behindAfterMs);
    try {
      written = await this.#deps.store.append(appends);
    } catch (error) {
      this.#deps.onFailure(
        error,
        appends.map(({ boardId }) => boardId),
      );
      for (const writer of writers) writer.behind();
      return false;
    } finally {
      clearInterval(late);
    }
    for (const writer of writers) {
      this.#held.delete(writer);
      const appended = written.get(writer.boardId);
      try {
        if (appended === undefined) writer.gone();
        else if (appended === 'stale') writer.stale();
        else writer.committed(appended);
      } catch (error) {
        // One room's fault is not the others'.
        writer.broken(error);
      }
    }
    return true;
  }

  #tellWhoWaits(): void {
    for (const writer of new Set([...this.#held.keys(), ...this.#ready])) writer.behind();
  }

  #onlySuspects(): boolean {
    if (this.#ready.size > this.#held.size) return false;
    const held = [...this.#held.values()];
    if (held.length === 0 || held.some(({ suspectUntil }) => suspectUntil === null)) return false;
    return [...this.#ready].every((writer) => this.#held.has(writer));
  }

  /** `wakeable`: ends early when a room wants something. */
  #rest(ms: number, wakeable: boolean): Promise<void> {
    if (ms < 1 || this.#stopped) return Promise.resolve();
    return new Promise((resolve) => {
      const end = (): void => {
        clearTimeout(timer);
        this.#wake = null;
        resolve();
      };
      const timer = setTimeout(end, ms);
      this.#wake = () => {
        if (wakeable || this.#stopped) end();
      };
    });
  }
}
