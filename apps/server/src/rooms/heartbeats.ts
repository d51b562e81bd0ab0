/** Whoever has to be asked now and then whether he is still there. */
export interface Beating {
  beat(): void;
}

/** Turns in one heartbeat: so that thousands are not asked in the same moment. */
const turns = 16;

/** One timer for everybody: each is asked once every `everyMs`, and the timer lives while somebody is here. */
export class Heartbeats {
  readonly #turns = Array.from({ length: turns }, () => new Set<Beating>());
  readonly #everyMs: number;
  readonly #onTurn: () => void;
  #at = 0;
  #count = 0;
  #timer: NodeJS.Timeout | null = null;

  /** `onTurn`: at each turn, while somebody is here. */
  constructor(everyMs: number, onTurn: () => void = () => undefined) {
    this.#everyMs = everyMs;
    this.#onTurn = onTurn;
  }

  /** First asked after a whole heartbeat. */
  add(one: Beating): void {
    this.#turns[this.#at]?.add(one);
    this.#count += 1;
    this.#timer ??= setInterval(() => this.#beat(), this.#everyMs / turns);
  }

  remove(one: Beating): void {
    if (!this.#turns.some((turn) => turn.delete(one))) return;
    this.#count -= 1;
    if (this.#count > 0 || !this.#timer) return;
    clearInterval(this.#timer);
    this.#timer = null;
  }

  #beat(): void {
    this.#at = (this.#at + 1) % turns;
    for (const one of this.#turns[this.#at] ?? []) one.beat();
    this.#onTurn();
  }
}
