import { type PlayerId, playerIdSchema } from '@stemline/football/ids';
import { type BranchId, branchIdSchema, type RowId, rowIdSchema } from '@stemline/read-rules/card';
import type { Element } from '@stemline/read-rules/finding';
import { type MapRoot, type MetaKey, mapRoots, metaSchemas, notesRoot } from './schema.ts';

/** Names one value of a board's document: `spots/H`, `rows/H.row1`, `meta/name`; the notes are one element. */
export type ElementKey = `${MapRoot}/${string}` | typeof notesRoot;

/** What an element key says. */
export type ElementName =
  | { root: typeof notesRoot }
  | { root: 'meta'; key: MetaKey }
  | { root: 'players' | 'spots' | 'routes' | 'motions' | 'cards'; player: PlayerId }
  | { root: 'rows'; player: PlayerId; row: RowId }
  | { root: 'branches'; player: PlayerId; branch: BranchId };

export const elementKey = (root: MapRoot, key: string): ElementKey => `${root}/${key}`;
export const rowKey = (player: PlayerId, row: RowId): string => `${player}.${row}`;
export const branchKey = (player: PlayerId, branch: BranchId): string => `${player}.${branch}`;

/** What a key of a map names, or null when no element can have it. */
export function nameOf(root: MapRoot, key: string): ElementName | null {
  if (root === 'meta')
    return Object.hasOwn(metaSchemas, key) ? { root, key: key as MetaKey } : null;
  if (root !== 'rows' && root !== 'branches') {
    const player = playerIdSchema.safeParse(key);
    return player.success ? { root, player: player.data } : null;
  }
  const dot = key.indexOf('.');
  if (dot < 0) return null;
  const player = playerIdSchema.safeParse(key.slice(0, dot));
  if (!player.success) return null;
  if (root === 'rows') {
    const row = rowIdSchema.safeParse(key.slice(dot + 1));
    return row.success ? { root, player: player.data, row: row.data } : null;
  }
  const branch = branchIdSchema.safeParse(key.slice(dot + 1));
  return branch.success ? { root, player: player.data, branch: branch.data } : null;
}

const isMapRoot = (root: string): root is MapRoot => (mapRoots as readonly string[]).includes(root);

/** Reads an element key from outside (an anchor of a comment, a selection); null when it is none. */
export function parseElementKey(key: string): ElementName | null {
  if (key === notesRoot) return { root: notesRoot };
  const slash = key.indexOf('/');
  const root = key.slice(0, Math.max(slash, 0));
  return isMapRoot(root) ? nameOf(root, key.slice(slash + 1)) : null;
}

/**
 * The values that an element of a finding lives in. A formation lives in the players who stand in
 * it, so they have to be given for it.
 */
export function elementKeysOf(element: Element, players: readonly PlayerId[] = []): ElementKey[] {
  switch (element.kind) {
    case 'player':
      return [`players/${element.player}`, `spots/${element.player}`];
    case 'route':
      return [`routes/${element.player}`];
    case 'motion':
      return [`motions/${element.player}`];
    case 'card':
      return [`cards/${element.player}`];
    case 'row':
      return [`rows/${rowKey(element.player, element.row)}`];
    case 'branch':
      return [`branches/${branchKey(element.player, element.branch)}`];
    case 'formation':
      return players.flatMap((player): ElementKey[] => [
        `players/${player}`,
        `spots/${player}`,
        `motions/${player}`,
      ]);
  }
}
