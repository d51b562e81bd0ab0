import type { ExtraPath } from '@stemline/drawing/options';
import { add, distance, scale, subtract } from '@stemline/football/geometry';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import { atSnap } from '@stemline/football/snap';
import { branchPoints } from '@stemline/read-rules/branch-path';
import type { Branch, ReadCard } from '@stemline/read-rules/card';
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

/** Where a branch leads, as a line: his path, or for a target the throw. */
function lineOf(play: RuledPlay, card: ReadCard, branch: Branch) {
  if (branch.kind === 'block') return [];
  if (branch.kind === 'route') return branchPoints(play, card, branch);
  const men = atSnap(play);
  const from = men.find(({ id }) => id === card.player);
  const to = men.find(({ id }) => id === branch.player);
  if (!from || !to) return [];
  // The throw ends short of the man, so that its head stays in sight.
  const short = Math.max(0, 1 - 1.1 / Math.max(1.1, distance(from.at, to.at)));
  return [from.at, add(from.at, scale(subtract(to.at, from.at), short))];
}

const endOf = (branch: Branch): ExtraPath['end'] =>
  branch.kind === 'route' && branch.finish.kind === 'sit' ? 'bar' : 'arrow';

/** Branches as lines beside the play: what answers is lit, the open card's others are quiet. */
export function branchPaths(
  play: RuledPlay,
  standing: Standing | null,
  open: PlayerId | null,
): ExtraPath[] {
  return play.cards.flatMap((card) => {
    const answer = standing?.answers.get(card.player)?.branch;
    const shown =
      card.player === open ? card.branches : card.branches.filter((b) => b.id === answer?.id);
    return shown
      .filter((branch) => branch.id === answer?.id || branch.kind === 'route')
      .map((branch): ExtraPath => {
        const lit = branch.id === answer?.id;
        return {
          id: `${card.player}.${branch.id}`,
          points: lineOf(play, card, branch),
          emphasis: lit ? 'lit' : 'quiet',
          end: endOf(branch),
          label: branch.name,
          labelAt: branch.kind === 'target' ? 'middle' : 'end',
        };
      })
      .filter(({ points }) => points.length > 1);
  });
}
