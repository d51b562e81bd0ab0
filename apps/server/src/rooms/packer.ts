import { isDeepStrictEqual } from 'node:util';
import { isWorthPacking, pack } from '@stemline/board/pack';
import { project } from '@stemline/board/project';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';
import type { Background } from './background.ts';
import type { BoardStore } from './store.ts';
import { wholeOf } from './whole.ts';

export interface PackerDeps {
  store: Pick<BoardStore, 'whole' | 'pack'>;
  background: Background;
  /** Somebody is on the board here, or this server is going down: it is left as it is. */
  isHeld: (boardId: string) => boolean;
  note: (what: string, details: Record<string, unknown>) => void;
}

/**
 * Packs boards at rest, one at a time, in the store alone: no room is loaded for it, and none that stands
 * on the board as it was can write to it afterwards (R87).
 */
export class Packer {
  readonly #deps: PackerDeps;
  #last: Promise<void> = Promise.resolve();

  constructor(deps: PackerDeps) {
    this.#deps = deps;
  }

  soon(boardId: string): void {
    const turn = this.#last;
    this.#deps.background.once('pack a board', boardId, () => {
      const work = turn.then(() => this.#pack(boardId));
      // The next one does not mind how this one ended.
      this.#last = work.catch(() => undefined);
      return work;
    });
  }

  async #pack(boardId: string): Promise<void> {
    const { store, isHeld, note } = this.#deps;
    if (isHeld(boardId)) return;
    const stored = await store.whole(boardId);
    const upTo = stored?.updates.at(-1)?.id ?? stored?.snapshot?.id;
    if (!stored || upTo === undefined) return;
    const ydoc = await wholeOf(stored);
    const whole = Y.encodeStateAsUpdate(ydoc);
    const packed = pack(whole);
    if (!isWorthPacking(whole, packed) || isHeld(boardId)) return;
    const stateVector = Y.encodeStateVector(ydoc);
    if (!isSame(ydoc, packed)) throw new Error(`packed, board ${boardId} would be another`);
    const base = stored.revision;
    const done = await store.pack({ boardId, base, upTo, whole, packed, stateVector });
    if (done) note('packed', { board: boardId, from: whole.byteLength, to: packed.byteLength });
  }
}

/** Read back as a joiner will: nothing is ever put in front that does not say the very same. */
function isSame(whole: Y.Doc, packed: Uint8Array): boolean {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, packed);
  return isDeepStrictEqual(told(whole), told(ydoc));
}

const told = (ydoc: Y.Doc): unknown => ({
  projection: project(ydoc),
  vector: Y.decodeStateVector(Y.encodeStateVector(ydoc)),
  deleted: Y.createDeleteSetFromStructStore(ydoc.store).clients,
});
