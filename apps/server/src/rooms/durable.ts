import { mayBeWorthPacking } from '@stemline/board/pack';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';

/** A resting board. What is asked of its document when it goes is known, so that nobody has to wake it for that. */
interface Resting {
  bytes: Uint8Array;
  mayBeWorthPacking: boolean;
}

/**
 * Everything durable of a board: a document while there is work on it, its bytes while it rests. Nobody
 * sees which of the two it is (R89): a document made from the bytes says the same as the one they are of,
 * as it does whenever a board is loaded.
 */
export class Durable {
  #held: Y.Doc | Resting;
  #stateVector: Uint8Array | null = null;
  readonly #onUse: () => void;

  /** `ydoc` is taken over. `onUse`: the document is there, and may be given up once it is not used any more. */
  constructor(ydoc: Y.Doc, onUse: () => void) {
    this.#held = ydoc;
    this.#onUse = onUse;
  }

  /** For reading; wakes the board. Not to be kept: at the next rest it is gone. */
  get ydoc(): Y.Doc {
    this.#onUse();
    if (this.#held instanceof Y.Doc) return this.#held;
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, this.#held.bytes);
    this.#held = ydoc;
    return ydoc;
  }

  get isResting(): boolean {
    return !(this.#held instanceof Y.Doc);
  }

  get stateVector(): Uint8Array {
    this.#stateVector ??= Y.encodeStateVector(this.ydoc);
    return this.#stateVector;
  }

  get mayBeWorthPacking(): boolean {
    return this.#held instanceof Y.Doc
      ? mayBeWorthPacking(this.#held)
      : this.#held.mayBeWorthPacking;
  }

  /** All of it as one update. */
  encode(): Uint8Array {
    return this.#held instanceof Y.Doc ? Y.encodeStateAsUpdate(this.#held) : this.#held.bytes;
  }

  /** What somebody with this state vector lacks. */
  answerTo(stateVector: Uint8Array): Uint8Array {
    if (this.#held instanceof Y.Doc) return Y.encodeStateAsUpdate(this.#held, stateVector);
    const { bytes } = this.#held;
    return hasNothing(stateVector) ? bytes : Y.diffUpdate(bytes, stateVector);
  }

  apply(updates: readonly Uint8Array[]): void {
    const { ydoc } = this;
    ydoc.transact(() => {
      for (const bytes of updates) Y.applyUpdate(ydoc, bytes);
    });
    this.#stateVector = null;
  }

  /** From here on only the bytes are kept, until somebody needs the document. */
  rest(): void {
    if (!(this.#held instanceof Y.Doc)) return;
    const ydoc = this.#held;
    this.#stateVector ??= Y.encodeStateVector(ydoc);
    this.#held = {
      bytes: Y.encodeStateAsUpdate(ydoc),
      mayBeWorthPacking: mayBeWorthPacking(ydoc),
    };
    ydoc.destroy();
  }

  close(): void {
    if (this.#held instanceof Y.Doc) this.#held.destroy();
  }
}

/** No client id in it. */
const hasNothing = (stateVector: Uint8Array): boolean =>
  stateVector.byteLength === 1 && stateVector[0] === 0;
