import * as Y from 'yjs';
import { mapRoots, type Roots, rootsOf } from './schema.ts';

/** What has to be known of a packed board, so that who comes from before the packing is told from the rest. */
export interface Packing {
  /** Of what was packed: whoever covers it has all that is missing here. */
  readonly stateVector: Uint8Array;
  /** Keys that had a value when it was packed, as `root/key`. */
  readonly keys: ReadonlySet<string>;
}

/** `stateVector`: of the state that was packed. `ydoc`: the packed board, nothing later in it. */
export function packingOf(ydoc: Y.Doc, stateVector: Uint8Array): Packing {
  const { maps } = rootsOf(ydoc);
  const keys = mapRoots.flatMap((root) =>
    [...maps[root]._map.keys()].map((key) => `${root}/${key}`),
  );
  return { stateVector, keys: new Set(keys) };
}

/**
 * Whether a client with this state vector has only a part of what was packed. A packed board's last
 * values would be sorted in among his older ones by chance: he must be answered from the whole board.
 * Who has nothing of it yet may have the packed one.
 */
export function lags(packing: Packing, stateVector: Uint8Array): boolean {
  const has = Y.decodeStateVector(stateVector);
  let some = false;
  let all = true;
  for (const [client, clock] of Y.decodeStateVector(packing.stateVector)) {
    const known = has.get(client) ?? 0;
    if (known > 0) some = true;
    if (known < clock) all = false;
  }
  return some && !all;
}

/**
 * An update as a packed board can take it: with nothing in it that the board has already. Null: it
 * builds on what was packed away. Yjs would drop such a write without a word, or sort it in by chance;
 * what it comes to can only be told on the whole board.
 *
 * Throws on bytes that are no update.
 */
export function fitPacked(packing: Packing, ydoc: Y.Doc, update: Uint8Array): Uint8Array | null {
  const { store } = ydoc;
  const known = (struct: Y.Item | Y.GC | Y.Skip): boolean =>
    struct.id.clock < Y.getState(store, struct.id.client);
  let trimmed = update;
  let { structs } = Y.decodeUpdate(update);
  if (structs.some((struct) => !(struct instanceof Y.Skip) && known(struct))) {
    trimmed = Y.diffUpdate(update, Y.encodeStateVector(ydoc));
    ({ structs } = Y.decodeUpdate(trimmed));
  }
  const roots = rootsOf(ydoc);
  const builds = structs.some(
    (struct) => struct instanceof Y.Item && buildsOnGone(struct, packing, ydoc, roots),
  );
  return builds ? null : trimmed;
}

function buildsOnGone(item: Y.Item, { keys }: Packing, ydoc: Y.Doc, roots: Roots): boolean {
  const { store } = ydoc;
  const at = (id: Y.ID | null): Y.Item | Y.GC | null =>
    id !== null && id.clock < Y.getState(store, id.client) ? Y.getItem(store, id) : null;
  const parent: unknown = item.parent;
  const linked = [item.origin, item.rightOrigin, parent instanceof Y.ID ? parent : null].map(at);
  if (linked.some((struct) => struct instanceof Y.GC)) return true;
  const right = at(item.rightOrigin);
  // No editor writes a value before another; where it would stand is a question for the whole board.
  if (right instanceof Y.Item && right.parentSub !== null) return true;
  // A first value, though there is one: its author has not seen any.
  return (
    item.origin === null &&
    item.rightOrigin === null &&
    item.parentSub !== null &&
    keys.has(`${nameOfRoot(parent, roots)}/${item.parentSub}`)
  );
}

const nameOfRoot = (parent: unknown, roots: Roots): string =>
  typeof parent === 'string'
    ? parent
    : (mapRoots.find((root) => (roots.maps[root] as unknown) === parent) ?? '');
