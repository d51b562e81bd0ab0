import type { Play, Player } from '@stemline/football/play';
import { isLineman } from '@stemline/football/play';
import {
  type Branch,
  type BranchId,
  branchIdSchema,
  type CardHead,
  type Row,
  rowIdSchema,
} from '@stemline/read-rules/card';

/** An id that no other page makes at the same time. */
const fresh = (prefix: string): string =>
  `${prefix}${crypto.randomUUID().replaceAll('-', '').slice(0, 12)}`;

/** Depths and widths to begin with; common practice, no single source. */
export const plainHead: CardHead = {
  title: '',
  key: {
    levels: ['line', 'second', 'corner'],
    maxDepth: 8,
    over: null,
    direction: 'inside',
    reach: 8,
    headUp: 0.5,
    tie: 0.5,
  },
  sideMan: { width: 3, depth: 7 },
  policy: 'first',
  whenInDoubt: null,
  noKey: null,
};

const routeBranch = (
  name: string,
  finish: Extract<Branch, { kind: 'route' }>['finish'],
): Branch => ({
  id: branchIdSchema.parse(fresh('b')),
  name,
  kind: 'route',
  finish,
  release: { side: 'free', hesitate: 0 },
  decideBy: 3.5,
  breakAt: { from: 5, to: 6 },
  eyes: 0,
});

/** One more branch of the kind that this player's card has. */
export function newBranch(play: Play, player: Player, name: string): Branch {
  if (player.position === 'QB') {
    const target = play.players.find((each) => each.position === 'WR' || each.position === 'TE');
    if (target) {
      return { id: branchIdSchema.parse(fresh('b')), name, kind: 'target', player: target.id };
    }
  }
  if (isLineman(player.position)) {
    return { id: branchIdSchema.parse(fresh('b')), name, kind: 'block', what: 'blocks his man' };
  }
  return routeBranch(name, { kind: 'in', angle: 60, run: 6 });
}

/** The branches a new card of this player begins with. */
export function firstBranches(play: Play, player: Player): Branch[] {
  if (player.position === 'QB' || isLineman(player.position)) {
    return [newBranch(play, player, player.position === 'QB' ? 'FIRST' : 'MAN')];
  }
  return [
    routeBranch('IN', { kind: 'in', angle: 60, run: 6 }),
    routeBranch('OUT', { kind: 'out', angle: 90, run: 6 }),
  ];
}

export const newRow = (branch: BranchId): Row => ({
  id: rowIdSchema.parse(fresh('r')),
  conditions: [],
  branch,
  says: '',
});

export const copyOfRow = (row: Row): Row => ({ ...row, id: rowIdSchema.parse(fresh('r')) });
