import type { Front } from '../fronts/front.ts';
import type { DefenderRule } from '../looks/recipe.ts';
import { atLeast, over, shell, wall, zone } from '../looks/rule.ts';
import { apexWill, corner, mike, overhang, safety } from './men.ts';

export const sixTraits = { shell: 'twoHigh', middle: 'open', coverage: 'zone' } as const;

/** Quarters to strength, a half and a squat corner away from it. */
export const six = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('middleHook', 'strong'), [
    { when: { strong: atLeast(3) }, job: wall('strong', 3) },
  ]),
  apexWill(front, zone('hook', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('curlFlat', 'strong')),
  corner('strong', { inside: 1, depth: 7 }, zone('quarter', 'strong')),
  corner('weak', { inside: -1, depth: 5 }, zone('flat', 'weak')),
  safety('strong-safety', shell('strong', 10), {
    rather: [over('strong', 2, 1, 10)],
    does: zone('insideQuarter', 'strong'),
  }),
  safety('free-safety', shell('weak', 13), { does: zone('half', 'weak') }),
];
