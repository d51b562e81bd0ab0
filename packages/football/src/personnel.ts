import type { Player } from './play.ts';

/**
 * The grouping's two digits: running backs, then tight ends; whoever is left is a wide receiver.
 * Source: Wikipedia, "Personnel grouping (gridiron football)". An asterisk marks a sixth lineman.
 */
export function personnel(players: readonly Player[]): string {
  const count = (...positions: Player['position'][]): number =>
    players.filter((player) => positions.includes(player.position)).length;
  return `${count('RB')}${count('TE')}${count('C', 'G', 'T') > 5 ? '*' : ''}`;
}
