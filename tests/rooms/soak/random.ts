/** Mulberry32 (public domain): the same numbers from the same seed. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed | 0;
  }

  /** 0 ≤ n < 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number, `from` ≤ n < `to`. */
  between(from: number, to: number): number {
    return from + Math.floor(this.next() * (to - from));
  }

  of<T>(all: readonly T[]): T {
    const one = all[this.between(0, all.length)];
    if (one === undefined) throw new RangeError('nothing to choose from');
    return one;
  }

  bytes(length: number): Uint8Array {
    return Uint8Array.from({ length }, () => this.between(0, 256));
  }
}
