import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import { reproved } from '@stemline/read-rules/mends/reprove';
import { createRecheck, type Recheck } from '@stemline/read-rules/recheck/recheck';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';

/** What is asked of whoever checks. Plain data: it crosses to another thread. */
export type Ask =
  | {
      kind: 'check';
      id: number;
      room: string;
      play: RuledPlay;
      /** Null: the same as at this room's last check. */
      looks: readonly LookRecipe[] | null;
    }
  /** The room is gone. */
  | { kind: 'forget'; room: string };

/** What a thread says: once that it is there, then one answer for each check. */
export type Said =
  | { kind: 'ready' }
  | { kind: 'checked'; id: number; findings: readonly Finding[] }
  | { kind: 'failed'; id: number; why: string };

/** Checks the plays of many rooms, and remembers for each what its last check has shown. */
export class Desk {
  readonly #rechecks = new Map<string, Recheck>();

  check({ room, play, looks }: Ask & { kind: 'check' }): readonly Finding[] {
    const known = this.#rechecks.get(room);
    if (looks) known?.useShelf(looks);
    const recheck = known ?? (looks && createRecheck(looks));
    if (!recheck) throw new Error(`nobody said with which looks room ${room} is checked`);
    this.#rechecks.set(room, recheck);
    return reproved(play, recheck.check(play), recheck);
  }

  forget(room: string): void {
    this.#rechecks.delete(room);
  }
}
