import type { LookRecipe } from '@stemline/football/shelf';
import type { Finding } from '@stemline/read-rules/finding';
import { createRecheck, type Recheck } from '@stemline/read-rules/recheck/recheck';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { type SamePage, samePage } from '@stemline/read-rules/same-page/same-page';
import type { Defence } from '../board/board-ui.ts';
import { type Standing, standingOf } from '../looks/standing.ts';

/** What the page asks of its worker. Plain data. */
export type Ask =
  /** The looks for everything asked from now on. */
  | { kind: 'looks'; looks: readonly LookRecipe[] }
  | { kind: 'check'; play: RuledPlay; defence: Defence }
  | { kind: 'page'; play: RuledPlay };

/** One answer for each check and each page, in the order of the asking. */
export type Said =
  | {
      kind: 'checked';
      /** Null: the same as the last time. No mend is among them: none has been tried. */
      findings: readonly Finding[] | null;
      standing: Standing | null;
    }
  | { kind: 'page'; page: SamePage };

const withoutMends = ({ mends: _untried, ...finding }: Finding): Finding => finding;

/** Checks one play again and again on a thread of its own, and remembers what the last check has shown. */
export class Desk {
  #looks: readonly LookRecipe[] = [];
  #recheck: Recheck = createRecheck([]);
  #last: readonly Finding[] | null = null;

  answer(ask: Ask): Said | null {
    switch (ask.kind) {
      case 'looks':
        this.#looks = ask.looks;
        this.#recheck = createRecheck(ask.looks);
        this.#last = null;
        return null;
      case 'check':
        return {
          kind: 'checked',
          findings: this.#news(this.#recheck.check(ask.play)),
          standing: standingOf(ask.play, ask.defence, this.#looks),
        };
      case 'page':
        return { kind: 'page', page: samePage(ask.play, this.#looks) };
    }
  }

  /** What a re-check has not run again it gives back as the same object. */
  #news(findings: readonly Finding[]): readonly Finding[] | null {
    const last = this.#last;
    this.#last = findings;
    const asBefore =
      last?.length === findings.length && findings.every((finding, i) => finding === last[i]);
    return asBefore ? null : findings.map(withoutMends);
  }
}
