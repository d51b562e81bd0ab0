/** Notices that nothing was used for a while, and has it given up; a use costs next to nothing. */
export class Stillness {
  readonly #ms: number;
  readonly #rest: () => boolean;
  #timer: NodeJS.Timeout | null = null;
  #isUsed = false;
  #isClosed = false;

  /** `rest` gives up what can be made again; false: something is still under way, and it is asked again. */
  constructor(ms: number, rest: () => boolean) {
    this.#ms = ms;
    this.#rest = rest;
  }

  /** Something is there that may be given up later. */
  used(): void {
    this.#isUsed = true;
    if (!this.#timer && !this.#isClosed) this.#wait();
  }

  close(): void {
    this.#isClosed = true;
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
  }

  #wait(): void {
    this.#isUsed = false;
    this.#timer = setTimeout(() => {
      this.#timer = null;
      if (this.#isUsed || !this.#rest()) this.#wait();
    }, this.#ms);
  }
}
