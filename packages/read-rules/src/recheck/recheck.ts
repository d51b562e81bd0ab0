import type { LookRecipe } from '@stemline/football/shelf';
import { checkKeeping } from '../check.ts';
import type { Finding } from '../finding.ts';
import type { Keep } from '../keep.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { Reads, recording } from './record.ts';
import { same } from './same.ts';

/** Checks one play again and again as it is edited. */
export interface Recheck {
  /** What `check` says of the play on this shelf; runs only what the edits since the last call can have changed. */
  readonly check: (play: RuledPlay) => readonly Finding[];
  /** How much of the last check had to be run: parts that ran, of all parts. */
  readonly effort: () => Effort;
}

export interface Effort {
  readonly ran: readonly string[];
  readonly parts: number;
}

interface Kept {
  readonly reads: Reads;
  readonly result: unknown;
}

/** One for each play and shelf: it remembers the last play alone. */
export function createRecheck(shelf: readonly LookRecipe[]): Recheck {
  let last = new Map<string, Kept>();
  let effort: Effort = { ran: [], parts: 0 };
  return {
    check: (play) => {
      const next = new Map<string, Kept>();
      const ran: string[] = [];
      const keep: Keep = (part, on, work) => {
        const before = last.get(part);
        if (before?.reads.stillHold(on)) {
          next.set(part, before);
          return before.result as ReturnType<typeof work>;
        }
        ran.push(part);
        const reads = new Reads();
        const result = work(recording(on, reads));
        // Whoever depends on this result need not run again where it came out the same.
        const held = before && same(before.result, result) ? before.result : result;
        next.set(part, { reads, result: held });
        return held as typeof result;
      };
      const findings = checkKeeping(keep, play, shelf);
      last = next;
      effort = { ran, parts: next.size };
      return findings;
    },
    effort: () => effort,
  };
}
