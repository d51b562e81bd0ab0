import { isLineman, type Play } from '@stemline/football/play';
import type { Branch, ReadCard, RouteBranch } from './card.ts';

/** Who reads a card: he runs, he throws, or he blocks. */
export type Reader = 'runner' | 'passer' | 'blocker';

export const isRoute = (branch: Branch): branch is RouteBranch => branch.kind === 'route';

/** Who reads the card: a quarterback throws, a lineman blocks, anybody else runs unless every branch blocks. */
export function readerOf(play: Play, card: ReadCard): Reader {
  const position = play.players.find(({ id }) => id === card.player)?.position;
  if (position === 'QB') return 'passer';
  if (position !== undefined && isLineman(position)) return 'blocker';
  return card.branches.length > 0 && card.branches.every(({ kind }) => kind === 'block')
    ? 'blocker'
    : 'runner';
}
