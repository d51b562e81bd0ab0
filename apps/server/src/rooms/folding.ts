import type { Packing } from '@stemline/board/packed';
import type { Background } from './background.ts';
import type { Durable } from './durable.ts';
import type { RoomLimits } from './limits.ts';
import type { BoardStore } from './store.ts';

export interface FoldingDeps {
  durable: Pick<Durable, 'encode'>;
  store: Pick<BoardStore, 'fold'>;
  limits: Pick<RoomLimits, 'compactAfterUpdates'>;
  background: Background;
}

/** Folds a long log into a snapshot, so that a board loads fast; edits go on meanwhile (R84). */
export class Folding {
  readonly #boardId: string;
  readonly #deps: FoldingDeps;
  readonly #packed: Uint8Array | null;
  #unfolded: number;
  #folding = false;

  constructor(
    { boardId, unfolded, packing }: { boardId: string; unfolded: number; packing: Packing | null },
    deps: FoldingDeps,
  ) {
    this.#boardId = boardId;
    this.#packed = packing?.stateVector ?? null;
    this.#unfolded = unfolded;
    this.#deps = deps;
  }

  /** So many updates more are durable, up to and including `last`, and `durable` has them all. */
  note({ updates, last }: { updates: number; last: bigint }): void {
    this.#unfolded += updates;
    if (this.#folding || this.#unfolded < this.#deps.limits.compactAfterUpdates) return;
    this.#folding = true;
    const folded = this.#unfolded;
    // Taken in this very turn: later updates are not in it, and `last` says so.
    const bytes = this.#deps.durable.encode();
    this.#deps.background.once('fold the log', this.#boardId, async () => {
      try {
        await this.#deps.store.fold(this.#boardId, last, bytes, this.#packed);
        this.#unfolded -= folded;
      } finally {
        this.#folding = false;
      }
    });
  }
}
