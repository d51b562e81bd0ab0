import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';
import { type Effect, effectOf, type ValueChange } from './effect.ts';
import { elementKey } from './element-key.ts';
import { lacking } from './lacking.ts';
import {
  maxBranchesOfCard,
  maxRowsOfCard,
  maxStoredBranches,
  maxStoredOfPlayers,
  maxStoredPlayers,
  maxStoredRows,
  maxWorkOfUpdate,
} from './limits.ts';
import { whyMislinked } from './links.ts';
import { mentionsOf } from './mentions.ts';
import { readNotes } from './notes/read.ts';
import { afresh, malformed, messageOf, type Objection, pendingOn } from './objection.ts';
import type { Projection } from './project.ts';
import { readElement } from './read-value.ts';
import { type MapRoot, type Roots, valueRoots } from './schema.ts';
import type { Shadow } from './shadow.ts';
import { withinWork } from './work.ts';

/** What an update did to the shadow, which stands on the new state. */
export interface Tried {
  readonly effect: Effect;
  /** What it brought, as one update. */
  readonly brought: Uint8Array;
  readonly projection: Projection;
}

/**
 * Brings an update that has been read into the shadow, and looks at what that does. `whyNotTheirs`: what speaks
 * against this effect for who they are that want it. After an objection the shadow is dirty.
 */
export function tryUpdate(
  shadow: Shadow,
  update: Uint8Array,
  structs: number,
  whyNotTheirs: (effect: Effect, transaction: Y.Transaction) => Objection | null,
): Tried | Objection {
  shadow.soil();
  const applied = apply(shadow.ydoc, update, structs);
  if ('code' in applied) return applied;
  const { transaction, brought } = applied;
  const { pendingStructs, pendingDs } = shadow.ydoc.store;
  if (pendingStructs !== null || pendingDs !== null)
    return pendingOn(lacking(mentionsOf(update), shadow.ydoc));
  const mislinked = whyMislinked(transaction);
  if (mislinked !== null) return malformed(mislinked);
  const effect = effectOf(transaction, shadow);
  const against = whyNoBoard(effect, shadow.roots) ?? whyNotTheirs(effect, transaction);
  if (against !== null) return against;
  return { effect, brought, projection: shadow.accept(effect.values, effect.notes) };
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

/** Why no board may become what this makes of it, whoever wants it. */
const whyNoBoard = (effect: Effect, roots: Roots): Objection | null =>
  misplaced(effect) ?? outsideSchema(effect, roots) ?? tooMuch(effect, roots);

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
