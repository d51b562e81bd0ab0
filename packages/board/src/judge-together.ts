import * as Y from 'yjs';
import { contradicts } from './contradicts.ts';
import { whyNotCovered } from './coverage.ts';
import { creatorClient } from './create.ts';
import type { EditScope } from './edit-scope.ts';
import { type Effect, isInNotes, type ValueChange } from './effect.ts';
import { type ElementKey, elementKey } from './element-key.ts';
import type { Lack } from './lacking.ts';
import { mentionsOf, reachOf } from './mentions.ts';
import {
  malformed,
  messageOf,
  type Objection,
  otherCopy,
  pendingOn,
  readOnly,
  refusal,
  tooManyWriters,
} from './objection.ts';
import { without, writersOf } from './own-words.ts';
import { readUpdate } from './read-update.ts';
import { notesRoot } from './schema.ts';
import type { Shadow } from './shadow.ts';
import { tryUpdate } from './try-update.ts';
import type { Accepted, Refusal, Trial } from './verdict.ts';

/** What one member wrote, on the words of the others of the same trial, and the right by which he did. */
export interface Part {
  readonly update: Uint8Array;
  readonly member: string;
  readonly scope: EditScope;
}

export interface JointTrial extends Pick<Trial, 'shadow' | 'clients'> {
  readonly parts: readonly Part[];
  /** How many client ids that have written nothing here yet a member may bring. */
  readonly mayBring: (member: string) => number;
}

export interface AcceptedTogether extends Omit<Accepted, 'changed' | 'clients'> {
  /** Every element that differs now, and by whom; of a removed one, who could have removed it. */
  readonly changed: ReadonlyMap<ElementKey, string>;
  /** Client ids with new structs, each with the member to bind it to. */
  readonly clients: ReadonlyMap<number, string>;
}

/**
 * May these updates in, which build on each other's words, so that none can be taken first? Of what is new each
 * counts only for what its own member wrote: a colleague's words are taken from the colleague. Each change of the
 * board has to be one that whoever made it may make.
 *
 * Throws only if the shadow was left dirty by an earlier refusal.
 */
export function judgeTogether(trial: JointTrial): AcceptedTogether | Refusal {
  const { shadow, parts } = trial;
  // Everybody else may write the notes, so that nobody need ask whose letter stands where in them.
  if (parts.some(({ scope }) => scope.kind === 'none')) return refusal(shadow, 'clean', readOnly());
  const joint = join(trial);
  if ('code' in joint) return refusal(shadow, 'clean', joint);
  const { update, writers } = joint;
  const read = readUpdate({
    shadow,
    update,
    member: '',
    clients: () => undefined,
    mayBring: () => Number.POSITIVE_INFINITY,
  });
  if ('code' in read) return refusal(shadow, 'clean', read);
  const changed = new Map<ElementKey, string>();
  const tried = tryUpdate(shadow, update, read.structs, (effect, transaction) => {
    if (parts.some((part) => saysOtherwise(part, shadow.ydoc))) return otherCopy;
    return attribute(effect, { transaction, shadow, parts, writers, changed });
  });
  if ('code' in tried) return refusal(shadow, 'dirty', tried);
  return {
    ok: true,
    changed,
    clients: writers,
    news: tried.effect.news,
    update: tried.brought,
    projection: tried.projection,
  };
}

interface Joint {
  readonly update: Uint8Array;
  /** Whose each client id with new structs is. */
  readonly writers: ReadonlyMap<number, string>;
}

/** Everything that somebody brings of his own, as one update. */
function join({ shadow, parts, clients, mayBring }: JointTrial): Joint | Objection {
  const { ydoc } = shadow;
  const writers = new Map<number, string>();
  const updates: Uint8Array[] = [];
  try {
    for (const { update, member } of parts) {
      const brought = writersOf(mentionsOf(update), (client) => Y.getState(ydoc.store, client));
      const isForeign = (client: number): boolean =>
        client === creatorClient || (clients(client) ?? member) !== member;
      for (const client of brought) {
        if (isForeign(client)) continue;
        if ((writers.get(client) ?? member) !== member) return otherCopy;
        writers.set(client, member);
      }
      updates.push(without(update, brought.filter(isForeign)));
    }
    for (const member of new Set(writers.values())) {
      const fresh = [...writers].filter(
        ([client, whose]) => whose === member && !ydoc.store.clients.has(client),
      );
      if (fresh.length > mayBring(member)) return tooManyWriters;
    }
    const update = Y.mergeUpdates(updates);
    const lacks = lackingTogether(parts, update, ydoc);
    return lacks.size > 0 ? pendingOn(lacks) : { update, writers };
  } catch (error) {
    return malformed(`it cannot be read: ${messageOf(error)}`);
  }
}

/** What the parts speak of, passing on a colleague's words counted, that neither is there nor comes with `update`. */
function lackingTogether(
  parts: readonly Part[],
  update: Uint8Array,
  { store }: Y.Doc,
): ReadonlyMap<number, Lack> {
  const { brings } = mentionsOf(update);
  const lacks = new Map<number, Lack>();
  for (const part of parts) {
    for (const [client, clock] of mentionsOf(part.update).needs) {
      const reach = reachOf(Y.getState(store, client), brings.get(client) ?? []);
      if (clock >= Math.max(reach, lacks.get(client)?.clock ?? 0))
        lacks.set(client, { clock, isGap: false });
    }
  }
  return lacks;
}

/** Whether something that a part brings, a colleague's words too, is not what stands there now. */
const saysOtherwise = ({ update }: Part, ydoc: Y.Doc): boolean =>
  Y.decodeUpdate(update).structs.some(
    (struct) => !(struct instanceof Y.Skip) && contradicts(struct, ydoc),
  );

interface Attribution {
  readonly transaction: Y.Transaction;
  readonly shadow: Shadow;
  readonly parts: readonly Part[];
  readonly writers: ReadonlyMap<number, string>;
  /** Filled: by whom each element was changed. */
  readonly changed: Map<ElementKey, string>;
}

/** Finds for each change a member who made it and may; the objection names those for which there is none. */
function attribute(effect: Effect, attribution: Attribution): Objection | null {
  const { shadow, changed } = attribution;
  const outside: ElementKey[] = [];
  let first: string | null = null;
  for (const change of effect.values) {
    const key = elementKey(change.root, change.key);
    const makers = makersOf(change, attribution);
    const refused = makers.map(({ scope }) => whyNotCovered(scope, change, shadow));
    const may = makers[refused.indexOf(null)];
    if (may) {
      changed.set(key, may.member);
      continue;
    }
    first ??= refused.find((why) => why !== null) ?? 'nobody here has changed it';
    outside.push(key);
  }
  if (effect.notes) changed.set(notesRoot, writerOfNotes(attribution));
  if (first === null) return null;
  const mend = 'Ask whoever may change it, or leave a comment there.';
  return { code: 'scope', why: first, mend, elements: outside };
}

/** Who wrote what stands there now; of what is gone, everybody who says that it is deleted. */
function makersOf(
  { root, key, after }: ValueChange,
  { shadow, parts, writers }: Attribution,
): readonly Part[] {
  const item = shadow.roots.maps[root]._map.get(key);
  if (!item) return [];
  const { id } = item;
  if (after !== undefined) return parts.filter(({ member }) => member === writers.get(id.client));
  return parts.filter(({ update }) => Y.isDeleted(Y.decodeUpdate(update).ds, id));
}

/** One of those who wrote in them; if they only became less, one of all. */
function writerOfNotes({ transaction, shadow, parts, writers }: Attribution): string {
  const wrote = [...writers].find(([client]) => {
    const from = transaction.beforeState.get(client) ?? 0;
    return (shadow.ydoc.store.clients.get(client) ?? []).some(
      (struct) =>
        struct.id.clock >= from &&
        struct instanceof Y.Item &&
        isInNotes(struct.parent, shadow.roots),
    );
  });
  return wrote?.[1] ?? (parts[0] as Part).member;
}
