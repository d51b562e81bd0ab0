import { mayBeWorthPacking } from '@stemline/board/pack';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';

/** A resting board. What is asked of its document when it goes is known, so that nobody has to wake it for that. */
interface Resting {
  bytes: Uint8Array;
  mayBeWorthPacking: boolean;
}

export interface DurableDeps {
  /** The document is there, and may be given up once it is not used any more. */
  onUse: () => void;
  /** What is durable could not be taken over: nothing that is said here can be trusted any more. */
  onBroken: (error: unknown) => void;
}

/** So many updates, or bytes of them, wait for the document at most. */
const maxLate = 32;
const maxLateBytes = 65_536;

/**
 * Everything durable of a board: a document while there is work on it, its bytes while it rests. Nobody
 * sees which of the two it is (R89): a document made from the bytes says the same as the one they are of,
 * as it does whenever a board is loaded. Nor does anybody see that the document takes over the latest
 * updates together, once it is asked for.
 */
export class Durable {
  #held: Y.Doc | Resting;
  /** Not in `#held` yet, in order. */
  #late: Uint8Array[] = [];
  #lateBytes = 0;
  /** Of all of it, as clocks by client id and as bytes; null: to be read from what is held. */
  #clocks: Map<number, number> | null = null;
  #stateVector: Uint8Array | null = null;
  readonly #deps: DurableDeps;

  /** `ydoc` is taken over. */
  constructor(ydoc: Y.Doc, deps: DurableDeps) {
    this.#held = ydoc;
    this.#deps = deps;
  }

  /** For reading; wakes the board. Not to be kept: at the next rest it is gone. */
  get ydoc(): Y.Doc {
    const ydoc = this.#awake();
    this.#catchUp(ydoc);
    return ydoc;
  }

  get isResting(): boolean {
    return !(this.#held instanceof Y.Doc);
  }

  get stateVector(): Uint8Array {
    this.#stateVector ??= Y.encodeStateVector(this.#clocks ?? this.ydoc);
    return this.#stateVector;
  }

  get mayBeWorthPacking(): boolean {
    const held = this.#whole;
    return held instanceof Y.Doc ? mayBeWorthPacking(held) : held.mayBeWorthPacking;
  }

  /** All of it as one update. */
  encode(): Uint8Array {
    const held = this.#whole;
    return held instanceof Y.Doc ? Y.encodeStateAsUpdate(held) : held.bytes;
  }

  /** What somebody with this state vector lacks. */
  answerTo(stateVector: Uint8Array): Uint8Array {
    const held = this.#whole;
    if (held instanceof Y.Doc) return Y.encodeStateAsUpdate(held, stateVector);
    const { bytes } = held;
    return hasNothing(stateVector) ? bytes : Y.diffUpdate(bytes, stateVector);
  }

  /** Each follows on what is here: it neither waits for anything nor brings what is here already. */
  apply(updates: readonly Uint8Array[]): void {
    const ydoc = this.#awake();
    this.#clocks ??= Y.decodeStateVector(this.stateVector);
    for (const bytes of updates) {
      for (const [client, clock] of Y.parseUpdateMeta(bytes).to)
        if (clock > (this.#clocks.get(client) ?? 0)) this.#clocks.set(client, clock);
      this.#late.push(bytes);
      this.#lateBytes += bytes.byteLength;
    }
    this.#stateVector = null;
    if (this.#late.length > maxLate || this.#lateBytes > maxLateBytes) this.#catchUp(ydoc);
  }

  /** From here on only the bytes are kept, until somebody needs the document. */
  rest(): void {
    const held = this.#whole;
    if (!(held instanceof Y.Doc)) return;
    this.#stateVector ??= Y.encodeStateVector(held);
    this.#held = {
      bytes: Y.encodeStateAsUpdate(held),
      mayBeWorthPacking: mayBeWorthPacking(held),
    };
    this.#clocks = null;
    held.destroy();
  }

  #awake(): Y.Doc {
    this.#deps.onUse();
    if (this.#held instanceof Y.Doc) return this.#held;
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, this.#held.bytes);
    this.#held = ydoc;
    return ydoc;
  }

  /** With everything in it. */
  get #whole(): Y.Doc | Resting {
    return this.#late.length > 0 ? this.ydoc : this.#held;
  }

  #catchUp(ydoc: Y.Doc): void {
    const late = this.#late;
    if (late.length === 0) return;
    try {
      ydoc.transact(() => {
        for (const bytes of late) Y.applyUpdate(ydoc, bytes);
      });
    } catch (error) {
      this.#deps.onBroken(error);
      throw error;
    }
    this.#late = [];
    this.#lateBytes = 0;
  }

  close(): void {
    if (this.#held instanceof Y.Doc) this.#held.destroy();
  }
}

/** No client id in it. */
const hasNothing = (stateVector: Uint8Array): boolean =>
  stateVector.byteLength === 1 && stateVector[0] === 0;
