/** Whoever sends frames that are to be taken. */
export interface Sending {
  readonly pass: { readonly userId: string };
  /** A turn in which more of it may be taken. */
  goOn(): void;
  /** It sends on and on what no editor could. */
  floods(): void;
}

/** Frames taken of one connection in a row, */
const maxOfConnection = 64;
/** and of all connections of one person, in one turn of the loop: what else lies there comes in a later one. */
const maxOfPerson = 256;
const second = 1_000;

/**
 * How much is taken of whom in one turn of the loop: tens of thousands of frames may lie in the sockets of one
 * person, and everybody else's come after them. Nothing is kept of a connection that has not sent more than its
 * share. SPEC R113.
 */
export class Shares {
  readonly #maxFullTurnsPerSecond: number;
  /** Frames taken in this turn, by person. */
  readonly #taken = new Map<string, number>();
  /** Whose frame came last, and how many came of it in a row: a socket is read by the chunk. */
  #last: Sending | null = null;
  #inARow = 0;
  /** Who goes on in a later turn, in order; true: since its share of this one is taken. */
  readonly #later = new Map<Sending, boolean>();
  /** Who had his whole share of this turn and more lay there; in how many turns of this second. */
  readonly #full = new Set<string>();
  #fullTurns = new Map<string, number>();
  #since = performance.now();
  #isDue = false;

  constructor(maxFullTurnsPerSecond: number) {
    this.#maxFullTurnsPerSecond = maxFullTurnsPerSecond;
  }

  /** Whether one more frame of it may be taken now; false: it is told when to go on. */
  takes(one: Sending): boolean {
    if (this.waits(one)) return false;
    if (one !== this.#last) {
      this.#last = one;
      this.#inARow = 0;
    }
    const { userId } = one.pass;
    const taken = this.#taken.get(userId) ?? 0;
    if (this.#inARow >= maxOfConnection || taken >= maxOfPerson) {
      this.#full.add(userId);
      this.#later.set(one, true);
      this.#soon();
      return false;
    }
    this.#inARow += 1;
    this.#taken.set(userId, taken + 1);
    this.#soon();
    return true;
  }

  /** Whether it has had its share. */
  waits(one: Sending): boolean {
    return this.#later.size > 0 && this.#later.get(one) === true;
  }

  goesOnLater(one: Sending): void {
    if (this.#later.has(one)) return;
    this.#later.set(one, false);
    this.#soon();
  }

  ended(one: Sending): void {
    this.#later.delete(one);
  }

  #soon(): void {
    if (this.#isDue) return;
    this.#isDue = true;
    setImmediate(() => this.#begin());
  }

  #begin(): void {
    this.#isDue = false;
    this.#taken.clear();
    this.#last = null;
    if (this.#later.size === 0) return;
    const flooding = this.#countFull();
    for (const one of [...this.#later.keys()]) {
      const { userId } = one.pass;
      // Who had nothing of this turn stays ahead of those of the same person who had some of it.
      if ((this.#taken.get(userId) ?? 0) >= maxOfPerson) continue;
      this.#later.delete(one);
      if (flooding.has(userId)) one.floods();
      else one.goOn();
    }
    if (this.#later.size > 0) this.#soon();
  }

  /** Who had more than a share in too many turns of this second. */
  #countFull(): ReadonlySet<string> {
    const flooding = new Set<string>();
    if (performance.now() - this.#since > second) {
      this.#fullTurns = new Map();
      this.#since = performance.now();
    }
    for (const userId of this.#full) {
      const turns = (this.#fullTurns.get(userId) ?? 0) + 1;
      this.#fullTurns.set(userId, turns);
      if (turns > this.#maxFullTurnsPerSecond) flooding.add(userId);
    }
    this.#full.clear();
    return flooding;
  }
}
