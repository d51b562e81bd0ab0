import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';
import type { Durable } from './durable.ts';
import type { BoardStore, StoredWhole } from './store.ts';

/** Rows that are read into a document at a stretch; others have their turn between. */
const rowsAtOnce = 500;

/** The stored board as a document, with nothing packed away; built without holding anybody up. */
export async function wholeOf({ snapshot, updates }: StoredWhole): Promise<Y.Doc> {
  const ydoc = newDocument();
  if (snapshot) Y.applyUpdate(ydoc, snapshot.bytes);
  for (let from = 0; from < updates.length; from += rowsAtOnce) {
    ydoc.transact(() => {
      for (const { bytes } of updates.slice(from, from + rowsAtOnce)) Y.applyUpdate(ydoc, bytes);
    });
    await new Promise((resolve) => setImmediate(resolve));
  }
  return ydoc;
}

/** A board whole, for those whose copy is older than its last packing. */
export class WholeBoard {
  readonly #ydoc: Y.Doc;
  readonly #rebased: readonly Uint8Array[];

  constructor(ydoc: Y.Doc, rebased: readonly Uint8Array[]) {
    this.#ydoc = ydoc;
    this.#rebased = rebased;
  }

  /** What a client with this state vector lacks of `durable`, the packed board. */
  answerTo(stateVector: Uint8Array, durable: Durable): Uint8Array {
    this.#catchUp(durable);
    return Y.encodeStateAsUpdate(this.#ydoc, stateVector);
  }

  /**
   * The board on which such an update is judged: whole, and with what its maker already brought back
   * before, so that what he sends again comes to nothing.
   */
  stateFor(durable: Durable, update: Uint8Array): Uint8Array {
    this.#catchUp(durable);
    const known = Y.encodeStateVector(this.#ydoc);
    const writers = newWritersOf(update, known);
    const earlier = this.#rebased.filter((bytes) =>
      newWritersOf(bytes, known).some((id) => writers.includes(id)),
    );
    return Y.mergeUpdates([Y.encodeStateAsUpdate(this.#ydoc), ...earlier]);
  }

  /** Like any colleague who has everything that was packed. */
  #catchUp(durable: Durable): void {
    Y.applyUpdate(this.#ydoc, durable.answerTo(Y.encodeStateVector(this.#ydoc)));
  }
}

/** Client ids with structs that are not known. */
const newWritersOf = (update: Uint8Array, known: Uint8Array): number[] => [
  ...Y.parseUpdateMeta(Y.diffUpdate(update, known)).to.keys(),
];

/** How long a whole board is kept for the next one who has to catch up, milliseconds. */
const keepMs = 5_000;

/** Reads a board whole when somebody needs it. */
export class WholeBoards {
  readonly #boardId: string;
  readonly #store: Pick<BoardStore, 'whole'>;
  #recent: Promise<WholeBoard> | null = null;
  #timer: NodeJS.Timeout | null = null;

  constructor(boardId: string, store: Pick<BoardStore, 'whole'>) {
    this.#boardId = boardId;
    this.#store = store;
  }

  /** For an answer to a sync: many may come back at once, or one ask again and again. */
  recent(): Promise<WholeBoard> {
    if (this.#recent) return this.#recent;
    const reading = this.fresh();
    this.#recent = reading;
    this.#timer = setTimeout(() => this.close(), keepMs);
    reading.catch(() => this.close());
    return reading;
  }

  close(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
    this.#recent = null;
  }

  /** With everything in it that was brought back until now. */
  async fresh(): Promise<WholeBoard> {
    const stored = await this.#store.whole(this.#boardId);
    if (!stored) throw new Error(`there is no board ${this.#boardId}`);
    return new WholeBoard(await wholeOf(stored), stored.rebased);
  }
}
