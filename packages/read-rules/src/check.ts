import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import type { Finding, Severity } from './finding.ts';
import { lateDecision } from './findings/decision.ts';
import { illegalFormation } from './findings/illegal-formation.ts';
import { keys } from './findings/keys.ts';
import type { OnCard } from './findings/on-card.ts';
import type { OnPlay } from './findings/on-play.ts';
import { proved } from './findings/proved.ts';
import { timing } from './findings/timing.ts';
import { unfinished, unreadable, withoutPlayer } from './findings/unfinished.ts';
import { unseen } from './findings/unseen.ts';
import { afresh, type Keep } from './keep.ts';
import { protection } from './protection/findings.ts';
import type { RuledPlay } from './ruled-play.ts';
import { offThePage } from './same-page/off-the-page.ts';
import { type Malformed, malformed, spoils, spoilsAll } from './well-formed.ts';

/** Everything that is asked of the play as a whole, in the order in which it is told. */
const checksOfAPlay: readonly ((on: OnPlay) => readonly Finding[])[] = [
  ({ play }) => illegalFormation(play),
  timing,
  protection,
  offThePage,
];

/** Everything that is asked of one card, in the order in which it is told. */
const checksOfACard: readonly ((on: OnCard) => readonly Finding[])[] = [
  unfinished,
  (on) => proved(on),
  keys,
  lateDecision,
  unseen,
];

const weight: Readonly<Record<Severity, number>> = { stop: 0, warn: 1, note: 2 };

/**
 * The rule check over one play: what its code, its cards and the shelf have against it. SPEC.md says
 * what each finding means. Pure: the same play and shelf give the same findings. It finds and never
 * throws; what has no meaning is told as unfinished, and nothing is concluded from it.
 */
export const check = (play: RuledPlay, shelf: readonly LookRecipe[]): readonly Finding[] =>
  checkKeeping(afresh, play, shelf);

/** The same, part by part, each run or remembered as `keep` sees fit. */
export function checkKeeping(
  keep: Keep,
  play: RuledPlay,
  shelf: readonly LookRecipe[],
): readonly Finding[] {
  const faults = keep('malformed', { play }, (on) => malformed(on.play));
  const found = faults.map(unreadable);
  if (!faults.some(spoilsAll)) {
    const looks = keep('looks', { play }, (on) =>
      shelf.map((recipe) => alignLook(recipe, on.play)),
    );
    const sound = withoutSpoiled(play, faults);
    for (const [i, ask] of checksOfAPlay.entries()) {
      found.push(...keep(`play ${i}`, { play: sound, looks }, ask));
    }
    for (const card of sound.cards) {
      const player = play.players.find(({ id }) => id === card.player);
      if (!player) found.push(withoutPlayer(card.player));
      else {
        const on = { play, card, who: player.label, looks };
        for (const [i, ask] of checksOfACard.entries()) {
          found.push(...keep(`card ${card.player} ${i}`, on, ask));
        }
      }
    }
  }
  return found.sort((a, b) => weight[a.severity] - weight[b.severity]);
}

/** The play without the cards that have no meaning; itself where all have. */
function withoutSpoiled(play: RuledPlay, faults: readonly Malformed[]): RuledPlay {
  const cards = play.cards.filter((card) => !faults.some((fault) => spoils(fault, card)));
  return cards.length === play.cards.length ? play : { ...play, cards };
}
