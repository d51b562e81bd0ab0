import type { Front } from '../fronts/front.ts';
import type { DefenderRule } from '../looks/recipe.ts';
import { apex, atLeast, over, shell, technique, wall, zone } from '../looks/rule.ts';
import { apexWill, corner, mike, overhang, safety } from './men.ts';

export const quartersTraits = { shell: 'twoHigh', middle: 'open', coverage: 'match' } as const;

const safeties: readonly DefenderRule[] = [
  safety('strong-safety', shell('strong', 10), {
    rather: [over('strong', 2, 1, 10)],
    does: zone('insideQuarter', 'strong'),
  }),
  safety('free-safety', shell('weak', 10), {
    rather: [
      over('weak', 2, 1, 10),
      // Nobody to his side but #1: he cheats over the ball and looks for the third receiver.
      { when: { strong: atLeast(3) }, at: technique('weak', '3', 11) },
    ],
    does: zone('insideQuarter', 'weak'),
    ratherDoes: [
      { when: { strong: atLeast(3), weak: { from: 0, to: 1 } }, job: zone('poach', 'strong') },
    ],
  }),
];

/** Four deep, three under: safeties over #2, corners off and inside. */
export const quarters = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('middleHook', 'strong'), [
    { when: { strong: atLeast(3) }, job: wall('strong', 3) },
  ]),
  apexWill(front, zone('curlFlat', 'weak')),
  overhang(front, [over('strong', 2, 1, 5)], zone('curlFlat', 'strong')),
  corner('strong', { inside: 1, depth: 7 }, zone('quarter', 'strong')),
  corner('weak', { inside: 1, depth: 7 }, zone('quarter', 'weak')),
  ...safeties,
];

/** Quarters in which corner and safety read #2: whoever goes out to the flat is the corner's, so he stands outside. */
export const palms = (front: Front): readonly DefenderRule[] => [
  mike(front, zone('middleHook', 'strong'), [
    { when: { strong: atLeast(3) }, job: wall('strong', 3) },
  ]),
  apexWill(front, wall('weak', 2), 'DB'),
  overhang(front, [apex('strong', 2, 'inside', 5)], wall('strong', 2)),
  corner('strong', { inside: -1, depth: 6 }, zone('quarter', 'strong')),
  corner('weak', { inside: -1, depth: 6 }, zone('quarter', 'weak')),
  ...safeties,
];
