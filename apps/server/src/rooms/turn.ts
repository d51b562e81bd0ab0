/** Lost so often in a row, another server is not only quicker once: it is to leave the next commit to this one. */
const oftenLost = 2;

/**
 * Whose turn the next commit of a board is, where servers race for it. Whoever loses has to read what came
 * first and judge its own on it again; while others commit, it would lose again and again (R111).
 */
export class Turn {
  readonly #ms: number;
  readonly #told: { isOurs: () => void; goesOn: () => void };
  #lost = 0;
  #left: NodeJS.Timeout | null = null;

  /** `isOurs`: the others are to hear that this server waits; `goesOn`: what was held back may be written. */
  constructor(ms: number, told: { isOurs: () => void; goesOn: () => void }) {
    this.#ms = ms;
    this.#told = told;
  }

  get #asks(): boolean {
    return this.#lost >= oftenLost;
  }

  /** Another server was asked to go first, and has not yet. */
  get isLeft(): boolean {
    return this.#left !== null;
  }

  /** What waits here could not be written before others wrote. */
  lost(): void {
    this.#lost += 1;
    if (this.#asks && !this.isLeft) this.#told.isOurs();
  }

  won(): void {
    this.#lost = 0;
  }

  /** Another server asks to go first; it is waited for, but not for ever. Where both ask, the older one goes first. */
  leaveTo({ isOlder }: { isOlder: boolean }): void {
    if (this.#asks && !isOlder) return;
    this.#left ??= setTimeout(() => this.taken(), this.#ms);
  }

  /** Another server has had its turn, or was waited for long enough. */
  taken(): void {
    if (!this.#left) return;
    clearTimeout(this.#left);
    this.#left = null;
    this.#told.goesOn();
  }

  close(): void {
    if (this.#left) clearTimeout(this.#left);
    this.#left = null;
  }
}
