import * as Y from 'yjs';

/** Clocks of one client id, from `from` up to `to`, which is not in it. */
export interface Run {
  readonly from: number;
  readonly to: number;
}

/** What an update speaks of, by client id. */
export interface Mentions {
  /** What it brings, in the order of the clocks. */
  readonly brings: ReadonlyMap<number, readonly Run[]>;
  /** The last clock of what it brings, builds on or deletes. */
  readonly needs: ReadonlyMap<number, number>;
}

/** An update as Yjs decodes it. */
export type Decoded = ReturnType<typeof Y.decodeUpdate>;

/** Throws when the update cannot be read. */
export const mentionsOf = (update: Uint8Array): Mentions => mentionsIn(Y.decodeUpdate(update));

export function mentionsIn({ structs, ds }: Decoded): Mentions {
  const brings = new Map<number, Run[]>();
  const needs = new Map<number, number>();
  const need = (client: number, clock: number): void => {
    if (clock > (needs.get(client) ?? -1)) needs.set(client, clock);
  };
  for (const struct of structs) {
    if (struct instanceof Y.Skip) continue;
    const { client, clock: from } = struct.id;
    const to = from + struct.length;
    need(client, to - 1);
    const runs = brings.get(client) ?? [];
    const before = runs.at(-1);
    if (before?.to === from) runs[runs.length - 1] = { from: before.from, to };
    else runs.push({ from, to });
    brings.set(client, runs);
    if (!(struct instanceof Y.Item)) continue;
    // Not integrated, it has its parent by id, or by name where that is a root.
    const parent: unknown = struct.parent;
    for (const id of [struct.origin, struct.rightOrigin, parent])
      if (id instanceof Y.ID) need(id.client, id.clock);
  }
  for (const [client, deleted] of ds.clients) need(client, lastOf(deleted));
  return { brings, needs };
}

/** The same; null when the update cannot be read. */
export function mentionsIfReadable(update: Uint8Array): Mentions | null {
  try {
    return mentionsOf(update);
  } catch {
    // What is wrong with it is said when it is judged.
    return null;
  }
}

/** How far the clocks of one client id go without a gap: up to the one given back, which is not in it. */
export function reachOf(begin: number, runs: readonly Run[]): number {
  let reach = begin;
  for (const { from, to } of runs) {
    if (from > reach) break;
    reach = Math.max(reach, to);
  }
  return reach;
}

/** The last clock of what is deleted of one client id. */
export const lastOf = (deleted: readonly { clock: number; len: number }[]): number =>
  deleted.reduce((last, { clock, len }) => Math.max(last, clock + len - 1), 0);
