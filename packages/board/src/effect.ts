import * as Y from 'yjs';
import { type ElementKey, elementKey } from './element-key.ts';
import { sameJson } from './json.ts';
import { type MapRoot, mapRoots, notesRoot, type Roots } from './schema.ts';
import type { Shadow } from './shadow.ts';

/** One value that an update made different. `after` undefined: it removed the value. */
export interface ValueChange {
  readonly root: MapRoot;
  readonly key: string;
  readonly before: unknown;
  readonly after: unknown;
}

/** What an update did to a document, seen from the document alone. */
export interface Effect {
  readonly values: readonly ValueChange[];
  readonly notes: boolean;
  /** It brought structs or deletions that were not there. */
  readonly news: boolean;
  /** Why the document now holds something in a place or a shape where no board has any; null when it does not. */
  readonly misplaced: string | null;
}

export const keysOf = (effect: Effect): ElementKey[] => [
  ...effect.values.map(({ root, key }) => elementKey(root, key)),
  ...(effect.notes ? ([notesRoot] as const) : []),
];

/** Reads the effect of the transaction that applied an update to the shadow. */
export function effectOf(transaction: Y.Transaction, shadow: Shadow): Effect {
  const { roots } = shadow;
  const values: ValueChange[] = [];
  let notes = false;
  let misplaced = listInMap(roots);
  for (const [type, keys] of transaction.changed) {
    const root = mapRoots.find((each) => (roots.maps[each] as unknown) === type);
    if (root === undefined) {
      notes ||= isInNotes(type, roots);
      continue;
    }
    for (const key of keys) {
      if (key === null) continue; // A list in a map: found by listInMap.
      misplaced ??= misplacedValue(roots, root, key);
      const before = shadow.accepted(root, key);
      const after = roots.maps[root].get(key);
      if (!sameJson(before, after)) values.push({ root, key, before, after });
    }
  }
  values.sort((a, b) => (elementKey(a.root, a.key) < elementKey(b.root, b.key) ? -1 : 1));
  return { values, notes, news: broughtNews(transaction), misplaced };
}

function broughtNews(transaction: Y.Transaction): boolean {
  if (transaction.deleteSet.clients.size > 0) return true;
  for (const [client, clock] of transaction.afterState) {
    if ((transaction.beforeState.get(client) ?? 0) < clock) return true;
  }
  return false;
}

function listInMap(roots: Roots): string | null {
  const listed = mapRoots.find((root) => roots.maps[root]._start !== null);
  return listed === undefined ? null : `${listed} holds a list beside its values`;
}

/** A value is one item with one piece of plain data; of a longer item nobody would see the rest. */
function misplacedValue(roots: Roots, root: MapRoot, key: string): string | null {
  const item = roots.maps[root]._map.get(key);
  if (item === undefined || item.deleted) return null;
  const plain =
    item.content instanceof Y.ContentAny &&
    item.content.arr.length === 1 &&
    item.content.arr[0] !== undefined;
  return plain ? null : `${elementKey(root, key).slice(0, 100)} is not one plain value`;
}

/** Whether a type, as an item has it for a parent, is the notes or lies in them. */
export function isInNotes(type: unknown, roots: Roots): boolean {
  let at: unknown = type;
  while (at instanceof Y.AbstractType) {
    if ((at as unknown) === roots.notes) return true;
    at = at._item?.parent;
  }
  return false;
}
