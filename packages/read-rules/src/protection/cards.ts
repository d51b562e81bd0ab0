import { backs } from '@stemline/football/count';
import { isLineman, type Play, type Player } from '@stemline/football/play';
import type { ProtectionCall } from '@stemline/football/protection';
import { atSnap, ballAt, snapper } from '@stemline/football/snap';
import { branchIdSchema, type ReadCard, rowIdSchema } from '../card.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { blockingOf } from './blockers.ts';

/** How far a back looks from his tackle. Yards. Common practice, no single source. */
const backLooks = 8;

/**
 * A called protection as the men who block by it are taught it: the centre's slide, and for each back
 * the man whom he checks before he goes out. Empty where it names nobody who is drawn.
 */
export function protectionCards(play: RuledPlay, call: ProtectionCall): readonly ReadCard[] {
  const blocking = blockingOf({ ...play, protection: call });
  if (!blocking) return [];
  const centre = snapper(atSnap(play), ballAt(play));
  const behind = new Set(backs(play).map(({ id }) => id));
  return [
    ...(centre && blocking.slide?.kind !== 'none' ? [slideCard(centre, call)] : []),
    ...blocking.helpers.flatMap(({ player, releases, side }) => {
      const over = behind.has(player.id) ? tackleOn(play, side) : undefined;
      return over ? [checkCard(player, over, releases)] : [];
    }),
  ];
}

function tackleOn(play: Play, side: -1 | 0 | 1): Player | undefined {
  const line = atSnap(play)
    .filter(({ position }) => isLineman(position))
    .sort((a, b) => a.at[0] - b.at[0]);
  return side === -1 ? line[0] : line.at(-1);
}

const head = {
  sideMan: { width: 4, depth: 7 },
  policy: 'unique',
} as const satisfies Partial<ReadCard['head']>;

/** Whatever he sees, he takes the gap to that side. */
function slideCard({ id }: Player, { toward }: ProtectionCall): ReadCard {
  const slide = branchIdSchema.parse('slide');
  return {
    player: id,
    head: {
      ...head,
      title: `Slide ${toward}`,
      key: {
        levels: ['line', 'second'],
        maxDepth: 6,
        over: null,
        direction: 'inside',
        reach: 3,
        headUp: 3,
        tie: 0,
      },
      whenInDoubt: slide,
      noKey: slide,
    },
    branches: [
      { id: slide, kind: 'block', name: 'SLIDE', what: `Take the next gap to the ${toward}` },
    ],
    rows: [{ id: rowIdSchema.parse('slide'), conditions: [], branch: slide, says: '' }],
  };
}

/** His man comes: block him; he does not: go, or help. */
function checkCard({ id }: Player, over: Player, releases: boolean): ReadCard {
  const [stay, go] = [branchIdSchema.parse('stay'), branchIdSchema.parse('go')];
  return {
    player: id,
    head: {
      ...head,
      title: releases ? 'Check, then release' : 'Stay in',
      key: {
        levels: ['second'],
        maxDepth: 8,
        over: over.id,
        direction: 'outside',
        reach: backLooks,
        headUp: 3,
        tie: 0.5,
      },
      whenInDoubt: stay,
      noKey: go,
    },
    branches: [
      { id: stay, kind: 'block', name: 'STAY', what: 'Block the first man from inside out' },
      {
        id: go,
        kind: 'block',
        name: releases ? 'RELEASE' : 'HELP',
        what: releases ? 'Go out on the route' : 'Help inside out',
      },
    ],
    rows: [
      {
        id: rowIdSchema.parse('comes'),
        conditions: [{ kind: 'is', fact: 'keyRushes', value: true }],
        branch: stay,
        says: 'Your man comes: he is yours.',
      },
      {
        id: rowIdSchema.parse('drops'),
        conditions: [{ kind: 'is', fact: 'keyRushes', value: false }],
        branch: go,
        says: releases ? 'He drops: go.' : 'He drops: help.',
      },
    ],
  };
}
