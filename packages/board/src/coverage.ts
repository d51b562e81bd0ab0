import type { Position } from '@stemline/football/play';
import type { EditScope } from './edit-scope.ts';
import type { ValueChange } from './effect.ts';
import { nameOf } from './element-key.ts';
import { readValue } from './read-value.ts';
import type { Shadow } from './shadow.ts';

/**
 * Whether a scope covers one changed value; null when it does, else why not. A position scope covers
 * what belongs to a player whose position is in it before AND after: nobody can move a player into
 * his own group to get at him, nor add or remove one.
 */
export function whyNotCovered(
  scope: EditScope,
  change: ValueChange,
  shadow: Shadow,
): string | null {
  if (scope.kind === 'all') return null;
  if (scope.kind === 'none') return 'you may read this board, not change it';
  const name = nameOf(change.root, change.key);
  if (name === null || name.root === 'meta' || name.root === 'notes') {
    return 'name, concept, situation, protection and drop of a play are not part of one group';
  }
  const before = positionOf(shadow.accepted('players', name.player));
  const after = positionOf(shadow.roots.maps.players.get(name.player));
  if (before === null && after === null) return 'this player is no longer on the board';
  // Without a place a player is off the board as well.
  const comesOrGoes =
    change.root === 'spots' && (change.before === undefined || change.after === undefined);
  if (before === null || after === null || comesOrGoes) {
    return 'players are added and removed by whoever may edit the whole board';
  }
  if (scope.positions.includes(before) && scope.positions.includes(after)) return null;
  return before === after
    ? `players at ${before} are not in your group`
    : 'a position is changed by whoever may edit the whole board';
}

function positionOf(raw: unknown): Position | null {
  if (raw === undefined) return null;
  const info = readValue('players', raw);
  return info.ok ? info.value.position : null;
}
