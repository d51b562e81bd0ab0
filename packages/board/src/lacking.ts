import * as Y from 'yjs';

/** What an update needs of a client id and neither brings nor finds. */
export interface Lack {
  /** The last clock of it. */
  readonly clock: number;
  /** The update goes on under that id itself: of a page's own id nobody else can bring it. */
  readonly isGap: boolean;
}

/** What an update builds on, deletes or leaves out that the document had not before it, by client id. */
export function lacking(update: Uint8Array, { store }: Y.Doc): ReadonlyMap<number, Lack> {
  const { structs, ds } = Y.decodeUpdate(update);
  const reached = new Map<number, number>();
  const lacks = new Map<number, Lack>();
  const need = (client: number, clock: number, isGap: boolean): void => {
    if (clock < Y.getState(store, client) || clock <= (lacks.get(client)?.clock ?? -1)) return;
    lacks.set(client, { clock, isGap });
  };
  for (const struct of structs) {
    if (struct instanceof Y.Skip) continue;
    const { id, length } = struct;
    const next = reached.get(id.client) ?? Y.getState(store, id.client);
    if (id.clock > next) need(id.client, id.clock - 1, true);
    reached.set(id.client, Math.max(next, id.clock + length));
  }
  for (const struct of structs) {
    if (!(struct instanceof Y.Item)) continue;
    // Not integrated, it has its parent by id, or by name where that is a root.
    const parent: unknown = struct.parent;
    for (const id of [struct.origin, struct.rightOrigin, parent])
      if (id instanceof Y.ID && !reached.has(id.client)) need(id.client, id.clock, false);
  }
  for (const [client, deleted] of ds.clients)
    if (!reached.has(client)) need(client, lastOf(deleted), false);
  return lacks;
}

/** The last clock of what is deleted of one client id. */
export const lastOf = (deleted: readonly { clock: number; len: number }[]): number =>
  deleted.reduce((last, { clock, len }) => Math.max(last, clock + len - 1), 0);
