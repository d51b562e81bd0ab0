import type { DefenderRule } from '../looks/recipe.ts';
import { post, shell, zone } from '../looks/rule.ts';
import { corner, safety } from './men.ts';

/** Deep men that several coverages share. */

/** Corners off and inside, each with an outside third. */
export const thirds: readonly DefenderRule[] = [
  corner('strong', { inside: 1, depth: 7 }, zone('third', 'strong')),
  corner('weak', { inside: 1, depth: 7 }, zone('third', 'weak')),
];

/** The one deep man, in the middle from the start. */
export const middleThird: DefenderRule = safety('free-safety', post(13), {
  does: zone('middleThird', 'strong'),
});

/** He shows two deep, and takes the middle. */
export const turnsToMiddle: DefenderRule = safety('free-safety', shell('weak', 12), {
  does: zone('middleThird', 'weak'),
});

/** Two safeties, a half each. */
export const halves: readonly DefenderRule[] = [
  safety('strong-safety', shell('strong', 13), { does: zone('half', 'strong') }),
  safety('free-safety', shell('weak', 13), { does: zone('half', 'weak') }),
];
