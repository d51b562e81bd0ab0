import * as Y from 'yjs';
import { mapRoots, newDocument, rootsOf } from './schema.ts';

/**
 * The same board without what overwritten values left behind. Yjs keeps every value that was ever
 * written under a key as a tombstone, linked to the next; where keys take turns nothing of that merges.
 * Here all of them but a key's last become mere counted gaps (`GC`), and the last, written or removed,
 * stands by itself. Ids, clocks, state vector and deletions stay as they were, and notes are not
 * touched: whoever has everything that is in `state` goes on with the packed board and never notices,
 * because the only item that his next write can build on is still there. Whoever lacks some of it must
 * not be answered from the packed board (`lags`), nor may his writes be judged on it
 * (`fitPacked`). Two packings of one board must not be merged as bytes (`Y.mergeUpdates`): of one comes
 * the gap, of the other what builds on it. Why all this is enough is said in DEVELOPERS.md.
 */
export function pack(state: Uint8Array): Uint8Array {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  const gone = new Set<Y.Item>();
  const kept = new Map<Y.Item, Y.Item>();
  for (const root of mapRoots) {
    const map = rootsOf(ydoc).maps[root];
    for (const [key, last] of map._map) {
      const before = plainBefore(last);
      if (before === null) continue;
      for (const item of before) gone.add(item);
      kept.set(last, alone(last, map, key));
    }
  }
  for (const [client, structs] of ydoc.store.clients)
    ydoc.store.clients.set(client, packed(structs, gone, kept));
  const bytes = Y.encodeStateAsUpdate(ydoc);
  ydoc.destroy();
  return bytes;
}

/** What came before a key's last value; null when something there is more than plain values, and stays. */
function plainBefore(last: Y.Item): Y.Item[] | null {
  if (!isPlain(last) || (last.length > 1 && !last.deleted)) return null;
  const before: Y.Item[] = [];
  for (let item = last.left; item !== null; item = item.left) {
    if (!item.deleted || !isPlain(item)) return null;
    before.push(item);
  }
  return before;
}

const isPlain = ({ content }: Y.Item): boolean =>
  content instanceof Y.ContentAny || content instanceof Y.ContentDeleted;

/** The last id of an item, linked to nothing but its map and its key. */
function alone(last: Y.Item, map: Y.Map<unknown>, key: string): Y.Item {
  const content = last.deleted ? new Y.ContentDeleted(1) : last.content;
  const item = new Y.Item(last.lastId, null, null, null, null, map, key, content);
  if (last.deleted) item.markDeleted();
  return item;
}

type Struct = Y.Item | Y.GC;

function packed(
  structs: readonly Struct[],
  gone: ReadonlySet<Y.Item>,
  kept: ReadonlyMap<Y.Item, Y.Item>,
): Struct[] {
  const result: Struct[] = [];
  const gap = ({ client, clock }: Y.ID, length: number): void => {
    const before = result.at(-1);
    if (length === 0) return;
    if (before instanceof Y.GC) before.length += length;
    else result.push(new Y.GC(Y.createID(client, clock), length));
  };
  for (const struct of structs) {
    if (struct instanceof Y.GC) {
      gap(struct.id, struct.length);
      continue;
    }
    const item = kept.get(struct);
    if (item) {
      gap(struct.id, struct.length - 1);
      result.push(item);
    } else if (gone.has(struct)) gap(struct.id, struct.length);
    else result.push(struct);
  }
  return result;
}

/** Bytes that packing must save before it is worth the work. */
const worthBytes = 8_192;

/** Whether packing made enough of a difference: it saved some kilobytes, and half of all. */
export const isWorthPacking = (state: Uint8Array, packedState: Uint8Array): boolean =>
  packedState.byteLength * 2 < state.byteLength &&
  state.byteLength - packedState.byteLength >= worthBytes;

/** What a tombstone that merges with no other takes in a state, bytes, at least. */
const tombstoneBytes = 6;

/** Whether packing this document can be worth it, told without doing it. */
export function mayBeWorthPacking(ydoc: Y.Doc): boolean {
  let tombstones = 0;
  for (const structs of ydoc.store.clients.values())
    for (const struct of structs)
      if (struct instanceof Y.Item && struct.deleted && struct.parentSub !== null) tombstones += 1;
  return tombstones * tombstoneBytes >= worthBytes;
}
