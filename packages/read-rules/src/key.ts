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
  const seen: Defender[] = [];
  let first = Number.POSITIVE_INFINITY;
  for (const defender of look.defenders) {
    if (!levels.includes(defender.level)) continue;
    const along = sign * insideOf(start, defender.at[0], ball);
    if (!(measured(defender.at[1]) <= maxDepth && along >= -headUp && along <= reach)) continue;
    seen.push(defender);
    first = Math.min(first, along);
  }
  const isAbreast = ({ at }: Defender): boolean =>
    measured(sign * insideOf(start, at[0], ball) - first) <= tie;
  const abreast = seen.length > 1 ? seen.filter(isAbreast) : seen;
  let shallowest = Number.POSITIVE_INFINITY;
  for (const { at } of abreast) shallowest = Math.min(shallowest, measured(at[1]));
  const left =
    abreast.length > 1
      ? abreast.filter(({ at }) => measured(measured(at[1]) - shallowest) <= tie)
      : abreast;
  const [only] = left;
  if (!only) return { kind: 'none' };
  return left.length === 1 ? { kind: 'one', defender: only } : { kind: 'tie', defenders: left };
}
