import type { Play, Player } from '../play.ts';
import { atSnap } from '../snap.ts';
import { books } from './book.ts';
import type { Illegality } from './illegality.ts';
import { eligibleReceivers } from './line.ts';

/** How deep past the line his drawn route takes a man; null where none is drawn. Yards. */
function deepest(play: Play, player: Player): number | null {
  const route = play.routes[player.id];
  if (!route) return null;
  return player.at[1] + Math.max(0, ...[...route.stem, ...route.finish].map(([, up]) => up));
}

/**
 * Men who may not catch a forward pass and are drawn further past the line than they may be before
 * it is thrown. Whether they are depends on when the ball is thrown, so it is a caution.
 */
export function routeRules(play: Play): readonly Illegality[] {
  const { downfield } = books[play.situation.code];
  const eligible = new Set(eligibleReceivers(play).map(({ id }) => id));
  return atSnap(play).flatMap((player): Illegality[] => {
    const depth = eligible.has(player.id) ? null : deepest(play, player);
    return depth === null || depth <= downfield.yards
      ? []
      : [
          {
            rule: 'ineligibleDownfield',
            weight: 'caution',
            says: `${player.label} may not catch a forward pass and goes more than ${downfield.yards} yd past the line: a foul unless the ball is thrown first.`,
            players: [player.id],
            source: downfield.source,
          },
        ];
  });
}
