/**
 * Asks one thing at a time. What is wanted meanwhile replaces what was wanted before it and has not
 * been asked yet, so that nothing ever queues up.
 */
export class LatestWins<Wanted> {
  readonly #send: (wanted: Wanted) => void;
  #underWay: { wanted: Wanted } | null = null;
  #next: { wanted: Wanted } | null = null;

  constructor(send: (wanted: Wanted) => void) {
    this.#send = send;
  }

  ask(wanted: Wanted): void {
    if (this.#underWay) this.#next = { wanted };
    else this.#begin({ wanted });
  }

  /** What was asked has been answered: gives it back, and goes on with the latest. */
  answered(): Wanted {
    const done = this.#underWay;
    if (!done) throw new Error('nothing was asked');
    const next = this.#next;
    this.#underWay = null;
    this.#next = null;
    if (next) this.#begin(next);
    return done.wanted;
  }

  #begin(next: { wanted: Wanted }): void {
    this.#underWay = next;
    this.#send(next.wanted);
  }
}
