import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import { type Evaluation, evaluate } from '@stemline/read-rules/evaluate';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { Defence } from '../board/board-ui.ts';

/** The defence on the board and what every card of the play answers to it. */
export interface Standing {
  look: AlignedLook;
  reactions: ReactionChoice;
  answers: ReadonlyMap<PlayerId, Evaluation>;
}

/** Null when nothing stands there, or a look that is no longer on the shelf. */
export function standingOf(
  play: RuledPlay,
  defence: Defence,
  shelf: readonly LookRecipe[],
): Standing | null {
  if (defence.kind === 'none') return null;
  const { reactions } = defence;
  let look: AlignedLook;
  if (defence.kind === 'witness') {
    look = defence.look;
  } else {
    const recipe = shelf.find(({ id }) => id === defence.look);
    if (!recipe) return null;
    look = alignLook(recipe, play);
  }
  const answers = new Map(
    play.cards.map((card) => [card.player, evaluate(play, card, look, reactions)] as const),
  );
  return { look, reactions, answers };
}

/** The key of one card, when there is exactly one. */
export function keyOf(standing: Standing | null, player: PlayerId | null): DefenderId | null {
  const key = player && standing?.answers.get(player)?.key;
  return key && key.kind === 'one' ? key.defender.id : null;
}
