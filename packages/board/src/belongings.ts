import type { PlayerId } from '@stemline/football/ids';
import type { Recorder } from './history.ts';
import type { Roots } from './schema.ts';

const rootsOfPlayer = ['players', 'spots', 'routes', 'motions', 'cards'] as const;

/** Keys of a card's rows or branches, readable or not. */
export function keysOfCard(roots: Roots, root: 'rows' | 'branches', player: string): string[] {
  return [...roots.maps[root].keys()].filter((key) => key.startsWith(`${player}.`));
}

/** Removes the rows and branches of a player's card. */
export function forgetParts(to: Recorder, roots: Roots, player: PlayerId): void {
  for (const root of ['rows', 'branches'] as const) {
    for (const key of keysOfCard(roots, root, player)) to.remove(root, key);
  }
}

/** Removes a player with everything that is his. */
export function forget(to: Recorder, roots: Roots, player: PlayerId): void {
  for (const root of rootsOfPlayer) to.remove(root, player);
  forgetParts(to, roots, player);
}

/** Removes what is left of players who are gone, where a colleague's edit crossed their removal. */
export function sweep(to: Recorder, roots: Roots, ids: ReadonlySet<string>): void {
  for (const root of ['spots', 'routes', 'motions', 'cards'] as const) {
    for (const id of [...roots.maps[root].keys()]) if (!ids.has(id)) to.remove(root, id);
  }
  for (const root of ['rows', 'branches'] as const) {
    for (const key of [...roots.maps[root].keys()]) {
      if (!ids.has(key.slice(0, key.indexOf('.')))) to.remove(root, key);
    }
  }
}
