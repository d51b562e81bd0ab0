import * as Y from 'yjs';
import { contradicts } from './contradicts.ts';
import { creatorClient } from './create.ts';
import { type Lack, lacking } from './lacking.ts';
import { maxDeletionsOfUpdate, maxStructsOfUpdate, maxWritersOfUpdate } from './limits.ts';
import { type Decoded, lastOf, mentionsIn } from './mentions.ts';
import {
  afresh,
  malformed,
  messageOf,
  type Objection,
  otherCopy,
  pendingOn,
  tooManyPieces,
  tooManyWriters,
} from './objection.ts';
import { isRoot } from './schema.ts';
import type { Trial } from './verdict.ts';

/** Past this a clock cannot have been reached by editing, and sums of clocks would lose precision. */
export const maxClock = 2 ** 31;

export interface Read {
  /** Client ids with structs that the board does not have yet. */
  readonly writers: readonly number[];
  readonly structs: number;
}

/**
 * What can be told of an update before it is tried. Structs the board has are no news: an answer to an
 * older question may carry a colleague's, and Yjs leaves them aside by their ids. They have to say the same.
 */
export function readUpdate({
  shadow,
  update,
  member,
  clients,
  mayBring,
}: Omit<Trial, 'scope'>): Read | Objection {
  let decoded: Decoded;
  try {
    decoded = Y.decodeUpdate(update);
  } catch (error) {
    return malformed(`it cannot be read: ${messageOf(error)}`);
  }
  const { structs } = decoded;
  if (structs.length > maxStructsOfUpdate) return tooManyPieces;
  const against = whyNotDelete(decoded, shadow.ydoc);
  if (against !== null) return against;
  const writers = new Set<number>();
  for (const struct of structs) {
    if (struct instanceof Y.Skip) continue;
    const { client, clock } = struct.id;
    const end = clock + struct.length;
    if (end > maxClock) return malformed('it counts further than anybody can have edited');
    if (contradicts(struct, shadow.ydoc)) return otherCopy;
    if (end <= Y.getState(shadow.ydoc.store, client)) continue;
    writers.add(client);
    const strange = strangeRootOf(struct);
    if (strange !== null) {
      const why = `no part of a board is called "${strange.slice(0, 40)}"`;
      return { code: 'undeclaredRoot', why, mend: afresh };
    }
  }
  if (writers.size > maxWritersOfUpdate) {
    return malformed(`it is written under more than ${maxWritersOfUpdate} client ids`);
  }
  let brought = 0;
  const foreign = new Set<number>();
  for (const client of writers) {
    const owner = clients(client);
    if (!shadow.ydoc.store.clients.has(client)) brought += 1;
    if (client === creatorClient || (owner !== undefined && owner !== member)) foreign.add(client);
  }
  if (foreign.size > 0) {
    return {
      code: 'foreignClient',
      why: 'it is written under the name of another editor',
      mend: afresh,
      awaits: allOf(structs, foreign),
    };
  }
  if (brought > 0 && brought > mayBring()) return tooManyWriters;
  // Seen before it is tried: afterwards the whole shadow would have to be made anew.
  const lacks = lacking(mentionsIn(decoded), shadow.ydoc);
  if (lacks.size > 0) return pendingOn(lacks);
  return { writers: [...writers], structs: structs.length };
}

/** What an update brings under these client ids, up to the last clock of each. */
function allOf(
  structs: readonly (Y.Item | Y.GC)[],
  clients: ReadonlySet<number>,
): ReadonlyMap<number, Lack> {
  const lacks = new Map<number, Lack>();
  for (const { id, length } of structs)
    if (clients.has(id.client))
      lacks.set(id.client, { clock: id.clock + length - 1, isGap: false });
  return lacks;
}

/** Deletions are told by client id; of one that neither the board nor the update knows they would wait for ever. */
function whyNotDelete({ structs, ds }: Decoded, { store }: Y.Doc): Objection | null {
  let runs = 0;
  let own: Set<number> | null = null;
  for (const [client, deleted] of ds.clients) {
    runs += deleted.length;
    if (store.clients.has(client)) continue;
    own ??= new Set(structs.map(({ id }) => id.client));
    if (!own.has(client))
      return pendingOn(new Map([[client, { clock: lastOf(deleted), isGap: false }]]));
  }
  if (runs <= maxDeletionsOfUpdate) return null;
  let there = 0;
  for (const pieces of store.clients.values()) there += pieces.length;
  return runs <= maxDeletionsOfUpdate + there + structs.length ? null : tooManyPieces;
}

/** The root that it is written to, when no board has such a one. */
function strangeRootOf(struct: Y.Item | Y.GC): string | null {
  // Not integrated yet, it has its root by name.
  const parent: unknown = struct instanceof Y.Item ? struct.parent : null;
  return typeof parent === 'string' && !isRoot(parent) ? parent : null;
}
