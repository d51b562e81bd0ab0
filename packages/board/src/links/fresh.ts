import * as Y from 'yjs';

type Struct = Y.Item | Y.GC;

/** What a link names, and the run that this is a piece of. */
export interface Linked {
  readonly id: Y.ID;
  readonly run: Struct;
}

/** Something that a transaction brought and that stands somewhere, with what its links name. */
export interface Fresh {
  /** The run it is part of: Yjs puts together what one client wrote on end. */
  readonly item: Y.Item;
  /** Clock of its first piece that is new. */
  readonly from: number;
  readonly left: Linked | null;
  readonly right: Linked | null;
}

/** What a transaction brought, client by client, each in the order of writing; not what has become a gap. */
export function* freshOf({ doc, beforeState, afterState }: Y.Transaction): Iterable<Fresh[]> {
  const { store } = doc;
  const linked = (id: Y.ID | null): Linked | null => id && { id, run: Y.getItem(store, id) };
  for (const [client, end] of afterState) {
    const begin = beforeState.get(client) ?? 0;
    const structs = store.clients.get(client);
    if (begin === end || structs === undefined) continue;
    const fresh: Fresh[] = [];
    for (let i = Y.findIndexSS(structs, begin); i < structs.length; i++) {
      const item = structs[i];
      if (!(item instanceof Y.Item)) continue;
      const from = Math.max(begin, item.id.clock);
      const origin = from > item.id.clock ? Y.createID(client, from - 1) : item.origin;
      fresh.push({ item, from, left: linked(origin), right: linked(item.rightOrigin) });
    }
    yield fresh;
  }
}
