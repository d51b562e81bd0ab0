import { isDeepStrictEqual } from 'node:util';
import type { LookRecipe } from '@stemline/football/shelf';
import type { BoardStore } from './store.ts';

/** A staff with a room in memory. */
interface Shelf {
  /** Rooms that hold it. */
  holds: number;
  reading: Promise<readonly LookRecipe[]> | null;
  /** As they were read last. */
  looks: readonly LookRecipe[] | null;
}

/** What a room has of its staff's looks. */
export interface HeldLooks {
  /** The looks as they were read last, by whichever room of the staff; the same object while they say the same. */
  read(): Promise<readonly LookRecipe[]>;
  /** They may have changed: the next one who asks reads them from the store. */
  readAgain(): void;
  /** The room goes. */
  release(): void;
}

/** One copy of a staff's looks for all its rooms: they weigh more than most boards. */
export class StaffLooks {
  readonly #store: Pick<BoardStore, 'looks'>;
  readonly #shelves = new Map<string, Shelf>();

  constructor(store: Pick<BoardStore, 'looks'>) {
    this.#store = store;
  }

  /** Staffs whose looks are kept. */
  get size(): number {
    return this.#shelves.size;
  }

  hold(staffId: string): HeldLooks {
    const shelf = this.#shelves.get(staffId) ?? { holds: 0, reading: null, looks: null };
    this.#shelves.set(staffId, shelf);
    shelf.holds += 1;
    return {
      read: () => this.#read(staffId, shelf),
      readAgain: () => {
        shelf.reading = null;
      },
      release: () => {
        shelf.holds -= 1;
        if (shelf.holds === 0) this.#shelves.delete(staffId);
      },
    };
  }

  #read(staffId: string, shelf: Shelf): Promise<readonly LookRecipe[]> {
    if (shelf.reading) return shelf.reading;
    const reading = this.#store.looks(staffId).then(
      (looks) => {
        // Overtaken by one that was begun later, and knows better.
        if (shelf.reading !== reading) return looks;
        if (shelf.looks === null || !isDeepStrictEqual(shelf.looks, looks)) shelf.looks = looks;
        return shelf.looks;
      },
      (error: unknown) => {
        if (shelf.reading === reading) shelf.reading = null;
        throw error;
      },
    );
    shelf.reading = reading;
    return reading;
  }
}
