import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import { reproved } from '@stemline/read-rules/mends/reprove';
import { createRecheck, type Recheck } from '@stemline/read-rules/recheck/recheck';
import { shared } from '@stemline/read-rules/recheck/same';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { CheckedRoom } from './told.ts';

/** What is asked of whoever checks. Plain data: it crosses to another thread. */
export type Ask =
  | {
      kind: 'check';
      id: number;
      room: CheckedRoom;
      play: RuledPlay;
      /** Null: the same as at this staff's last check. */
      looks: readonly LookRecipe[] | null;
    }
  /** The room is gone, or at rest; `isLast`: no other room of its staff is known. */
  | { kind: 'forget'; room: CheckedRoom; isLast: boolean };

/** What a thread says: once that it is there, then one answer for each check. */
export type Said =
  | { kind: 'ready' }
  | { kind: 'checked'; id: number; findings: readonly Finding[] }
  | { kind: 'failed'; id: number; why: string };

/** Checks the plays of many rooms, and remembers for each what its last check has shown. */
export class Desk {
  readonly #rechecks = new Map<string, Recheck>();
  readonly #looksOf = new Map<string, readonly LookRecipe[]>();

  check({
    room: { boardId, staffId },
    play,
    looks: news,
  }: Ask & { kind: 'check' }): readonly Finding[] {
    if (news) this.#looksOf.set(staffId, shared(this.#looksOf.get(staffId), news));
    const looks = this.#looksOf.get(staffId);
    if (!looks) throw new Error(`nobody said with which looks board ${boardId} is checked`);
    const known = this.#rechecks.get(boardId);
    known?.useShelf(looks);
    const recheck = known ?? createRecheck(looks);
    this.#rechecks.set(boardId, recheck);
    return reproved(play, recheck.check(play), recheck);
  }

  forget({ room: { boardId, staffId }, isLast }: Ask & { kind: 'forget' }): void {
    this.#rechecks.delete(boardId);
    if (isLast) this.#looksOf.delete(staffId);
  }
}
