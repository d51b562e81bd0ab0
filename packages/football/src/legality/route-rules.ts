import { halfWidth } from '../field.ts';
import { add, type Point } from '../geometry.ts';
import type { Play, Player } from '../play.ts';
import { atSnap } from '../snap.ts';
import { books } from './book.ts';
import type { Illegality } from './illegality.ts';
import { eligibleReceivers } from './line.ts';

/** The points of a man's drawn route on the field; none where none is drawn. Yards. */
function pointsOf({ routes }: Play, { id, at }: Player): Point[] {
  const route = routes[id];
  return route ? [...route.stem, ...route.finish].map((point) => add(at, point)) : [];
}

/**
 * Men who may not catch a forward pass and are drawn further past the line than they may be before
 * it is thrown, and men who may and lose that by leaving the field. Whether it matters depends on when
 * the ball is thrown, so each is a caution.
 */
export function routeRules(play: Play): readonly Illegality[] {
  const { downfield, wentOut } = books[play.situation.code];
  const eligible = new Set(eligibleReceivers(play).map(({ id }) => id));
  return atSnap(play).flatMap((player): Illegality[] => {
    const points = pointsOf(play, player);
    const head = { weight: 'caution', players: [player.id], of: 'route' } as const;
    if (eligible.has(player.id)) {
      return points.some(([x]) => Math.abs(x) >= halfWidth)
        ? [
            {
              ...head,
              rule: 'routeOutOfBounds',
              says: `${player.label} runs out of bounds: from then on he may not catch a pass.`,
              source: wentOut.source,
            },
          ]
        : [];
    }
    return points.some(([, up]) => up > downfield.yards)
      ? [
          {
            ...head,
            rule: 'ineligibleDownfield',
            says: `${player.label} may not catch a forward pass and goes more than ${downfield.yards} yd past the line: a foul unless the ball is thrown first.`,
            source: downfield.source,
          },
        ]
      : [];
  });
}
