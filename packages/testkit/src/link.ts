import * as Y from 'yjs';

/**
 * Two documents on a line whose frames wait until they are let through, one by one and in order, as
 * on a socket. While the line is cut nothing is queued; mending it exchanges what each lacks.
 */
export class Link {
  readonly #ends: readonly [Y.Doc, Y.Doc];
  readonly #waiting: [Uint8Array[], Uint8Array[]] = [[], []];
  readonly #stop: () => void;
  #cut = false;

  constructor(a: Y.Doc, b: Y.Doc) {
    this.#ends = [a, b];
    const hear = (to: 0 | 1) => (update: Uint8Array, origin: unknown) => {
      if (origin !== this && !this.#cut) this.#waiting[to].push(update);
    };
    const fromA = hear(1);
    const fromB = hear(0);
    a.on('update', fromA);
    b.on('update', fromB);
    this.#stop = () => {
      a.off('update', fromA);
      b.off('update', fromB);
    };
  }

  /** Frames waiting for the first and for the second end. */
  get waiting(): readonly [number, number] {
    return [this.#waiting[0].length, this.#waiting[1].length];
  }

  /** Lets the oldest frames through to one end. */
  deliver(to: 0 | 1, count = Number.POSITIVE_INFINITY): void {
    for (const update of this.#waiting[to].splice(0, count))
      Y.applyUpdate(this.#ends[to], update, this);
  }

  /** Lets everything through, both ways. */
  settle(): void {
    this.deliver(0);
    this.deliver(1);
  }

  /** Drops what is under way; from here on nothing passes. */
  cut(): void {
    this.#cut = true;
    this.#waiting[0].length = 0;
    this.#waiting[1].length = 0;
  }

  /** Both say what they have and get what they lack. */
  mend(): void {
    this.#cut = false;
    const [a, b] = this.#ends;
    Y.applyUpdate(b, Y.encodeStateAsUpdate(a, Y.encodeStateVector(b)), this);
    Y.applyUpdate(a, Y.encodeStateAsUpdate(b, Y.encodeStateVector(a)), this);
  }

  close(): void {
    this.#stop();
  }
}
