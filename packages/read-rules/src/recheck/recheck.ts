import type { LookRecipe } from '@stemline/football/shelf';
import { checkKeeping } from '../check.ts';
import type { Finding, FindingKind } from '../finding.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { Kept } from './kept.ts';
import { shared } from './same.ts';

/** Checks one play again and again as it is edited. */
export interface Recheck {
  /** What `check` says of the play on this shelf; runs only what the edits since the last call can have changed. */
  readonly check: (play: RuledPlay) => readonly Finding[];
  /** Has the next checks look at this shelf; looks that are as they were are not aligned again. */
  readonly useShelf: (shelf: readonly LookRecipe[]) => void;
  /**
   * The findings of some kinds, and of all that cards are asked, if the play last checked were this one.
   * The next check knows nothing of it.
   */
  readonly tried: (play: RuledPlay, kinds: ReadonlySet<FindingKind>) => readonly Finding[];
  /** How much of the last check had to be run: parts that ran, of all parts. */
  readonly effort: () => Effort;
}

export interface Effort {
  readonly ran: readonly string[];
  readonly parts: number;
}

/** One for each play: it remembers the last play and shelf alone. */
export function createRecheck(first: readonly LookRecipe[]): Recheck {
  const kept = new Kept();
  let shelf = first;
  let last: RuledPlay | null = null;
  return {
    check: (play) => {
      last = shared(last, play);
      kept.begin();
      return checkKeeping(kept, last, shelf);
    },
    tried: (play, kinds) => checkKeeping(kept.aside(), shared(last, play), shelf, kinds),
    useShelf: (next) => {
      shelf = shared(shelf, next);
    },
    effort: () => ({ ran: kept.ran, parts: kept.asked }),
  };
}
