import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';
import { contradicts } from './contradicts.ts';
import { whyNotCovered } from './coverage.ts';
import { creatorClient } from './create.ts';
import type { EditScope } from './edit-scope.ts';
import { type Effect, effectOf, keysOf, type ValueChange } from './effect.ts';
import { type ElementKey, elementKey } from './element-key.ts';
import { type Lack, lacking, lastOf } from './lacking.ts';
import {
  maxBranchesOfCard,
  maxDeletionsOfUpdate,
  maxRowsOfCard,
  maxStoredBranches,
  maxStoredOfPlayers,
  maxStoredPlayers,
  maxStoredRows,
  maxStructsOfUpdate,
  maxWorkOfUpdate,
  maxWritersOfMember,
  maxWritersOfUpdate,
} from './limits.ts';
import { whyMislinked } from './links.ts';
import { readNotes } from './notes/read.ts';
import type { Projection } from './project.ts';
import { readElement } from './read-value.ts';
import type { RefusalCode } from './refusal.ts';
import { isRoot, type MapRoot, type Roots, valueRoots } from './schema.ts';
import type { Shadow } from './shadow.ts';
import { elementWords } from './words.ts';
import { withinWork } from './work.ts';

export interface Trial {
  readonly shadow: Shadow;
  /** One update in Yjs' first encoding, as it came over the wire. */
  readonly update: Uint8Array;
  /** Who sends it. */
  readonly member: string;
  /** Whom a client id is bound to; undefined when nobody has used it yet. */
  readonly clients: (client: number) => string | undefined;
  /** How many client ids that have written nothing here yet the member may bring. */
  readonly mayBring: () => number;
  readonly scope: EditScope;
}

export interface Accepted {
  readonly ok: true;
  /** Every element that differs now, removed ones too, in the order of their keys. */
  readonly changed: readonly ElementKey[];
  /** Client ids with new structs: bind each of them to the member. */
  readonly clients: readonly number[];
  /** False: the board has all of it already; there is nothing to store or to pass on. */
  readonly news: boolean;
  /**
   * What it brought, as one update: this is to be stored and passed on, not the bytes that came. Those
   * may repeat structs whose content is gone from the board with one of their own; the board leaves them
   * aside, but a client that has not synced yet would take them for the true ones.
   */
  readonly update: Uint8Array;
  readonly projection: Projection;
}

export interface Refusal {
  readonly ok: false;
  readonly code: RefusalCode;
  readonly why: string;
  /** What the sender can do about it. */
  readonly mend: string;
  /** The elements it would have changed wrongly, as far as they can be told. */
  readonly elements: readonly ElementKey[];
  /** The same in a coach's words. */
  readonly names: readonly string[];
  /**
   * Words of other client ids that it needs and does not bring, or brings though they are a colleague's:
   * whoever writes under them may be about to bring them himself. Empty: that is not what is wrong.
   */
  readonly awaits: ReadonlyMap<number, Lack>;
  /** `dirty`: the shadow now holds the refused update; call `shadow.rebuild` before the next trial. */
  readonly shadow: 'clean' | 'dirty';
}

export type Verdict = Accepted | Refusal;

/**
 * May this update in? It is taken whole or refused whole, by what it does to the board, never by
 * what it seems to be. On acceptance the shadow stands on the new state.
 *
 * Throws only if the shadow was left dirty by an earlier refusal.
 */
export function judge(trial: Trial): Verdict {
  const { shadow } = trial;
  const read = readUpdate(trial);
  if ('code' in read) return refusal(shadow, 'clean', read);
  shadow.soil();
  const applied = apply(shadow.ydoc, trial.update, read.structs);
  if ('code' in applied) return refusal(shadow, 'dirty', applied);
  const { pendingStructs, pendingDs } = shadow.ydoc.store;
  if (pendingStructs !== null || pendingDs !== null) {
    return refusal(shadow, 'dirty', pendingOn(lacking(trial.update, shadow.ydoc)));
  }
  const mislinked = whyMislinked(applied.transaction);
  if (mislinked !== null) return refusal(shadow, 'dirty', malformed(mislinked));
  const effect = effectOf(applied.transaction, shadow);
  const against = whyNot(effect, trial);
  if (against !== null) return refusal(shadow, 'dirty', against);
  return {
    ok: true,
    changed: keysOf(effect),
    clients: read.writers,
    news: effect.news,
    update: applied.brought,
    projection: shadow.accept(effect.values, effect.notes),
  };
}

interface Objection {
  readonly code: RefusalCode;
  readonly why: string;
  readonly mend: string;
  readonly elements?: readonly ElementKey[];
  readonly awaits?: Refusal['awaits'];
}

const afresh = 'Open the board again; what you did is kept, so that you can take it over by hand.';
const malformed = (why: string): Objection => ({ code: 'malformed', why, mend: afresh });
const tooManyPieces: Objection = {
  code: 'tooLarge',
  why: `it is of more than ${maxStructsOfUpdate} pieces, which no edit is`,
  mend: afresh,
};
const tooManyWriters: Objection = {
  code: 'tooLarge',
  why: `nobody may write to one board under more than ${maxWritersOfMember} client ids`,
  mend: 'Duplicate the board and go on there: a copy starts without its history.',
};
const otherCopy: Objection = {
  code: 'foreignClient',
  why: 'the board has something else under the client ids and clocks that it is written with',
  mend: afresh,
};
const pendingOn = (awaits: Refusal['awaits']): Objection => ({
  code: 'pending',
  why: 'it builds on a change that never reached the board',
  mend: afresh,
  awaits,
});

function refusal(shadow: Shadow, state: 'clean' | 'dirty', objection: Objection): Refusal {
  const elements = objection.elements ?? [];
  // Words for what stood before: what was refused has no name yet.
  const names = elements.map((key) => elementWords(key, shadow.projection.board));
  const { code, why, mend, awaits = new Map() } = objection;
  return { ok: false, code, why, mend, elements, names, awaits, shadow: state };
}

/** Past this a clock cannot have been reached by editing, and sums of clocks would lose precision. */
const maxClock = 2 ** 31;

interface Read {
  /** Client ids with structs that the board does not have yet. */
  readonly writers: readonly number[];
  readonly structs: number;
}

/**
 * What can be told of an update before it is tried. Structs the board has are no news: an answer to an
 * older question may carry a colleague's, and Yjs leaves them aside by their ids. They have to say the same.
 */
function readUpdate({ shadow, update, member, clients, mayBring }: Trial): Read | Objection {
  let decoded: ReturnType<typeof Y.decodeUpdate>;
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
function whyNotDelete(
  { structs, ds }: ReturnType<typeof Y.decodeUpdate>,
  { store }: Y.Doc,
): Objection | null {
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

interface Applied {
  readonly transaction: Y.Transaction;
  readonly brought: Uint8Array;
}

function apply(ydoc: Y.Doc, update: Uint8Array, structs: number): Applied | Objection {
  const decoder = decoding.createDecoder(update);
  // More than one: after formatted text has met, Yjs removes marks that say nothing any more.
  const parts: Uint8Array[] = [];
  const keep = (part: Uint8Array): void => {
    parts.push(part);
  };
  ydoc.on('update', keep);
  try {
    const transaction = withinWork(maxWorkOfUpdate, structs, () =>
      ydoc.transact((running) => {
        Y.readUpdate(decoder, ydoc, 'trial');
        return running;
      }, 'trial'),
    );
    if (decoding.hasContent(decoder)) return malformed('there are bytes after its end');
    return {
      transaction,
      brought: parts.length === 1 && parts[0] ? parts[0] : Y.mergeUpdates(parts),
    };
  } catch (error) {
    return malformed(`it cannot be applied: ${messageOf(error)}`);
  } finally {
    ydoc.off('update', keep);
  }
}

const messageOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);

function whyNot(effect: Effect, trial: Trial): Objection | null {
  return (
    misplaced(effect) ??
    outsideSchema(effect, trial.shadow.roots) ??
    tooMuch(effect, trial.shadow.roots) ??
    outsideScope(effect, trial)
  );
}

function misplaced({ misplaced: found }: Effect): Objection | null {
  return found === null ? null : { code: 'schema', why: found, mend: afresh };
}

function outsideSchema(effect: Effect, roots: Roots): Objection | null {
  for (const change of effect.values) {
    const why = whyNoElement(change);
    if (why !== null) {
      return { code: 'schema', why, mend: afresh, elements: [elementKey(change.root, change.key)] };
    }
  }
  if (!effect.notes) return null;
  const [problem] = readNotes(roots.notes).problems;
  return problem === undefined
    ? null
    : { code: 'schema', why: problem, mend: afresh, elements: ['notes'] };
}

function whyNoElement({ root, key, after }: ValueChange): string | null {
  if (root === 'meta' && key === 'version') return 'only the server raises the version of a board';
  if (after === undefined)
    return root === 'meta' && key !== 'protection' && key !== 'drop'
      ? 'a play always has a name, a concept and a situation'
      : null;
  const reading = readElement(root, key, after);
  return reading.ok ? null : reading.why;
}

const maxStored: Record<(typeof valueRoots)[number], number> = {
  players: maxStoredPlayers,
  spots: maxStoredOfPlayers,
  routes: maxStoredOfPlayers,
  motions: maxStoredOfPlayers,
  cards: maxStoredOfPlayers,
  rows: maxStoredRows,
  branches: maxStoredBranches,
};

function tooMuch(effect: Effect, roots: Roots): Objection | null {
  const added = effect.values.filter((change) => change.before === undefined);
  const full = (root: MapRoot, why: string): Objection => ({
    code: 'tooLarge',
    why,
    mend: 'Remove what the play no longer needs, then make the change again.',
    elements: added
      .filter((change) => change.root === root)
      .map(({ key }) => elementKey(root, key)),
  });
  for (const root of valueRoots) {
    if (!added.some((change) => change.root === root)) continue;
    if (roots.maps[root].size > maxStored[root])
      return full(root, `a board holds at most ${maxStored[root]} ${root}`);
    if (root !== 'rows' && root !== 'branches') continue;
    const max = root === 'rows' ? maxRowsOfCard : maxBranchesOfCard;
    if (mostOfOneCard(roots, root) > max)
      return full(root, `a read card holds at most ${max} ${root}`);
  }
  return null;
}

function mostOfOneCard(roots: Roots, root: 'rows' | 'branches'): number {
  const counts = new Map<string, number>();
  for (const key of roots.maps[root].keys()) {
    const player = key.slice(0, key.indexOf('.'));
    counts.set(player, (counts.get(player) ?? 0) + 1);
  }
  return Math.max(0, ...counts.values());
}

function outsideScope(effect: Effect, { scope, shadow }: Trial): Objection | null {
  if (scope.kind === 'none') {
    if (!effect.news) return null;
    return {
      code: 'readOnly',
      why: 'you may read this board, not change it',
      mend: 'Ask a coordinator or the head coach to let you in to this board.',
      elements: keysOf(effect),
    };
  }
  const outside: ElementKey[] = [];
  let first: string | null = null;
  for (const change of effect.values) {
    const why = whyNotCovered(scope, change, shadow);
    if (why === null) continue;
    first ??= why;
    outside.push(elementKey(change.root, change.key));
  }
  if (first === null) return null;
  return {
    code: 'scope',
    why: first,
    mend: 'Ask whoever may change it, or leave a comment there.',
    elements: outside,
  };
}
