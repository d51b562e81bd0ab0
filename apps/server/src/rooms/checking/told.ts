import type { LookRecipe } from '@stemline/football/shelf';

/** A room as far as the rule check knows it. */
export interface CheckedRoom {
  boardId: string;
  staffId: string;
}

interface Staff {
  looks: readonly LookRecipe[];
  /** Its boards that are known. */
  boards: Set<string>;
}

/** What whoever checks was told already: the looks of a staff cross once, and go with its last room. */
export class Told {
  readonly #staffs = new Map<string, Staff>();

  /** Looks where they are news. */
  news(
    { boardId, staffId }: CheckedRoom,
    looks: readonly LookRecipe[],
  ): readonly LookRecipe[] | null {
    const staff = this.#staffs.get(staffId);
    if (!staff) {
      this.#staffs.set(staffId, { looks, boards: new Set([boardId]) });
      return looks;
    }
    staff.boards.add(boardId);
    if (staff.looks === looks) return null;
    staff.looks = looks;
    return looks;
  }

  /** Whether the room was the last one of its staff; null: nothing was told of it. */
  forget({ boardId, staffId }: CheckedRoom): 'last' | 'one of them' | null {
    const staff = this.#staffs.get(staffId);
    if (!staff?.boards.delete(boardId)) return null;
    if (staff.boards.size > 0) return 'one of them';
    this.#staffs.delete(staffId);
    return 'last';
  }
}
