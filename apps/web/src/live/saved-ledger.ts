import * as Y from 'yjs';

/** One edit that only this browser holds. */
interface Waiting {
  /** Clocks that the room must hold; empty for a pure deletion, which moves no clock. */
  clocks: ReadonlyMap<number, number>;
  /** Which of the changes sent over this connection carries it, from 1; null: not sent over it yet. */
  change: number | null;
}

const covers = (
  vector: ReadonlyMap<number, number>,
  clocks: ReadonlyMap<number, number>,
): boolean => [...clocks].every(([client, clock]) => (vector.get(client) ?? 0) >= clock);

/**
 * Counts the edits that only this browser holds. An edit is safe when the room has called it saved:
 * by its clock or, for a deletion, by the number of the change that carried it (rooms' SPEC, R1).
 */
export class SavedLedger {
  readonly #doc: Y.Doc;
  #clock: number;
  #waiting: Waiting[] = [];

  constructor(doc: Y.Doc) {
    this.#doc = doc;
    this.#clock = 0;
  }

  /** A transaction of this page has been applied; `change` is the number it is about to be sent under. */
  wrote(change: number | null): void {
    const { clientID } = this.#doc;
    const clock = Y.getState(this.#doc.store, clientID);
    const clocks = clock > this.#clock ? new Map([[clientID, clock]]) : new Map();
    this.#clock = clock;
    this.#waiting.push({ clocks, change });
  }

  /**
   * The document was loaded from this browser; `savedThen` is the last vector that the room called
   * saved before the page was closed.
   */
  restored(savedThen: Uint8Array | null): void {
    const clocks = Y.decodeStateVector(Y.encodeStateVector(this.#doc));
    const then: ReadonlyMap<number, number> = savedThen
      ? Y.decodeStateVector(savedThen)
      : new Map<number, number>();
    // What of it is deletions nobody knows: its clocks may be saved before them.
    if (!covers(then, clocks)) this.#waiting.push({ clocks: new Map(), change: null });
  }

  /** Another connection: what was sent over the last one may not have arrived. */
  reconnecting(): void {
    this.#waiting = this.#waiting.map((each) => ({ ...each, change: null }));
  }

  /** Everything the room lacked has been sent as this change. */
  answered(change: number): void {
    this.#waiting = this.#waiting.map((each) => ({ ...each, change: each.change ?? change }));
  }

  /** The room says that this vector, and the first `changes` of this connection, are durable. */
  saved(stateVector: Uint8Array, changes: number): void {
    const vector = Y.decodeStateVector(stateVector);
    this.#waiting = this.#waiting.filter(({ clocks, change }) => {
      const arrived = change !== null && change <= changes;
      return !arrived && (clocks.size === 0 || !covers(vector, clocks));
    });
  }

  get unsaved(): number {
    return this.#waiting.length;
  }

  /** Some of it no state vector tells of. */
  get holdsDeletions(): boolean {
    return this.#waiting.some(({ clocks }) => clocks.size === 0);
  }
}
