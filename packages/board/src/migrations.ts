import * as Y from 'yjs';
import { readMeta } from './read-value.ts';
import { newDocument, type Roots, rootsOf } from './schema.ts';

/** One step from the version before it. Never edited once a release has written with it. */
export interface Migration {
  /** The version a document has after this step. */
  readonly to: number;
  /** In a coach's words, for the audit trail. */
  readonly says: string;
  readonly up: (roots: Roots) => void;
}

/** Steps in order; the first goes from version 1 to 2. Version 1 is the first shape there was. */
export const migrations: readonly Migration[] = [];

const firstVersion = 1;
export const versionAfter = (steps: readonly Migration[]): number =>
  steps.at(-1)?.to ?? firstVersion;

/** The shape of the document that this build reads and writes. */
export const documentVersion = versionAfter(migrations);

export type Opened =
  | {
      readonly ok: true;
      readonly ydoc: Y.Doc;
      readonly from: number;
      readonly steps: readonly Migration[];
    }
  /** Written by a newer build: reload to go on; nothing is changed. */
  | { readonly ok: false; readonly code: 'newer'; readonly version: number }
  /** No document of a board: bytes that are no update, an update that lacks what it builds on, or no version. */
  | { readonly ok: false; readonly code: 'unreadable'; readonly why: string };

/** Opens a whole stored state and brings it to this build's version. Writes as `clientId` where a step writes. */
export function boardFromState(
  state: Uint8Array,
  { clientId, steps = migrations }: { clientId?: number; steps?: readonly Migration[] } = {},
): Opened {
  const ydoc = newDocument(clientId);
  try {
    Y.applyUpdate(ydoc, state);
  } catch (error) {
    return {
      ok: false,
      code: 'unreadable',
      why: error instanceof Error ? error.message : 'not an update',
    };
  }
  if (ydoc.store.pendingStructs !== null || ydoc.store.pendingDs !== null) {
    return { ok: false, code: 'unreadable', why: 'it lacks updates that it builds on' };
  }
  return migrate(ydoc, steps);
}

/** Brings a document to the version after `steps`, in one transaction. */
export function migrate(ydoc: Y.Doc, steps: readonly Migration[] = migrations): Opened {
  const roots = rootsOf(ydoc);
  const stored = readMeta('version', roots.maps.meta.get('version'));
  if (!stored.ok)
    return { ok: false, code: 'unreadable', why: `its version cannot be read: ${stored.why}` };
  const from = stored.value;
  if (from > versionAfter(steps)) return { ok: false, code: 'newer', version: from };
  const due = steps.filter((step) => step.to > from);
  if (due.length > 0) {
    ydoc.transact(() => {
      for (const step of due) {
        step.up(roots);
        roots.maps.meta.set('version', step.to);
      }
    }, 'migration');
  }
  return { ok: true, ydoc, from, steps: due };
}
