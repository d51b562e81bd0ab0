import { ballX } from '@stemline/football/field';
import type { AlignedLook, Defender } from '@stemline/football/look';
import type { Play, Player } from '@stemline/football/play';
import { insideSign } from '@stemline/football/route';
import { atSnap } from '@stemline/football/snap';
import type { ReadCard } from './card.ts';
import { measured } from './measured.ts';

/** Whom a card reads in a look: one man, nobody, or two he cannot tell apart. */
export type KeyResult =
  | { readonly kind: 'one'; readonly defender: Defender }
  | { readonly kind: 'none' }
  | { readonly kind: 'tie'; readonly defenders: readonly Defender[] };

/** The man the scan starts over, at the snap; null when he is not on the field. */
export function scanStart(play: Play, card: ReadCard): Player | null {
  const id = card.head.key.over ?? card.player;
  return atSnap(play).find((player) => player.id === id) ?? null;
}

/** How far inside of a player something stands, yards; outside is negative. */
export const insideOf = (player: Player, x: number, ball: number): number =>
  measured((x - player.at[0]) * insideSign(player.at[0], ball));

/**
 * The first defender of the card's levels from head-up in the scan's direction, no deeper than its
 * limit and within its reach. Of men whose offsets lie within `tie` of the first, the shallowest,
 * if he is the shallowest by more than `tie`.
 */
export function selectKey(play: Play, card: ReadCard, look: AlignedLook): KeyResult {
  const start = scanStart(play, card);
  return start ? keyAmong(card, start, ballX(play.situation), look) : { kind: 'none' };
}

/** The same for a scan whose start is known. */
export function keyAmong(
  card: ReadCard,
  start: Player,
  ball: number,
  look: AlignedLook,
): KeyResult {
  const { levels, maxDepth, direction, reach, headUp, tie } = card.head.key;
  const sign = direction === 'inside' ? 1 : -1;
  const candidates: Candidate[] = [];
  let first = Number.POSITIVE_INFINITY;
  for (const defender of look.defenders) {
    if (!levels.includes(defender.level)) continue;
    const along = sign * insideOf(start, defender.at[0], ball);
    const depth = measured(defender.at[1]);
    if (!(depth <= maxDepth && along >= -headUp && along <= reach)) continue;
    candidates.push({ defender, along, depth });
    first = Math.min(first, along);
  }
  const abreast = candidates.filter(({ along }) => measured(along - first) <= tie);
  const shallowest = Math.min(...abreast.map(({ depth }) => depth));
  const left = abreast.filter(({ depth }) => measured(depth - shallowest) <= tie);
  const [only, ...others] = left.map(({ defender }) => defender);
  if (!only) return { kind: 'none' };
  return others.length === 0
    ? { kind: 'one', defender: only }
    : { kind: 'tie', defenders: [only, ...others] };
}

interface Candidate {
  readonly defender: Defender;
  /** Yards from the start, along the scan. */
  readonly along: number;
  readonly depth: number;
}
