import { count, transact } from 'lib0/indexeddb';
import { clearDocument, IndexeddbPersistence } from 'y-indexeddb';
import type * as Y from 'yjs';

/** The copy of a board that this browser keeps, so that unsaved work outlives a restart. */
export interface BrowserCopy {
  /** Resolves when what was kept is in the document, or cannot be had; gives the vector last called saved. */
  loaded: Promise<{ savedThen: Uint8Array | null }>;
  /** Null: something is unsaved that no vector tells of. */
  keepSaved(stateVector: Uint8Array | null): void;
  /** Settles when the browser's store has committed what was in the document by now; false: it did not. */
  written(): Promise<boolean>;
  close(): void;
  /** Forgets the copy; a copy opened on this page after it begins empty. */
  drop(): Promise<void>;
}

/** `onLost`: the browser keeps nothing of this document any more, nor what it kept until now. */
export type OpenCopy = (name: string, doc: Y.Doc, onLost: () => void) => BrowserCopy;

/** Named by member and board: on a shared laptop one coach's unsent edits never go out under the next one's name. */
export const copyName = (memberId: string, boardId: string): string =>
  `stemline/${memberId}/${boardId}`;

const nothingKept: BrowserCopy = {
  loaded: Promise.resolve({ savedThen: null }),
  keepSaved: () => undefined,
  written: () => Promise.resolve(false),
  close: () => undefined,
  drop: () => Promise.resolve(),
};

/** So long the browser's store may take to open or forget a copy. Some never answer; the room is not to wait for them. */
const patienceMs = 5_000;
/** Copies that could not be forgotten: what is in them must not come back by this page. */
const undropped = new Set<string>();

/** A browser without IndexedDB, or with one that fails, works too; it only forgets when it is closed. */
export const openCopy: OpenCopy = (name, doc, onLost) => {
  if (typeof indexedDB === 'undefined' || undropped.has(name)) return nothingKept;
  const kept = new IndexeddbPersistence(name, doc);
  let failed = false;
  const lost = (): void => {
    if (failed) return;
    failed = true;
    onLost();
  };
  neverThrows(kept, doc, lost);
  const opened = inTime(Promise.race([kept.whenSynced, neverOpened(kept)]));
  return {
    loaded: opened
      .then(async () => {
        // A write that the store gave up, for want of room for instance.
        kept.db?.addEventListener('abort', lost);
        // Another page forgets the copy, or somebody clears what this browser keeps of the site.
        for (const gone of ['versionchange', 'close']) kept.db?.addEventListener(gone, lost);
        const saved: unknown = await inTime(kept.get('saved'));
        return { savedThen: saved instanceof ArrayBuffer ? new Uint8Array(saved) : null };
      })
      .catch(() => {
        lost();
        return { savedThen: null };
      }),
    keepSaved: (stateVector) => {
      const told = stateVector ? kept.set('saved', stateVector.slice().buffer) : kept.del('saved');
      told.catch(lost);
    },
    async written() {
      try {
        await opened;
        if (!kept.db || failed) return false;
        // A transaction reads only when every write before it on the same store is over.
        const [updates] = transact(kept.db, ['updates'], 'readonly');
        if (updates) await count(updates);
      } catch {
        lost();
      }
      return !failed;
    },
    close: () => void kept.destroy().catch(lost),
    async drop() {
      failed = true;
      try {
        await inTime(kept.destroy().then(() => clearDocument(name)));
      } catch {
        undropped.add(name);
      }
    },
  };
};

/**
 * What is written on this page is stored as it is written, ahead of whoever else hears of it. A store that
 * was closed under the page throws then, and the room would never be sent the edit.
 */
function neverThrows(kept: IndexeddbPersistence, doc: Y.Doc, lost: () => void): void {
  const store = kept._storeUpdate;
  doc.off('update', store);
  kept._storeUpdate = (update, origin) => {
    try {
      store(update, origin);
    } catch {
      lost();
    }
  };
  doc.on('update', kept._storeUpdate);
}

/** Rejects when the database cannot be opened: `whenSynced` would be waited for in vain. */
const neverOpened = (kept: IndexeddbPersistence): Promise<never> =>
  kept._db.then(() => new Promise<never>(() => undefined));

function inTime<Result>(work: Promise<Result>): Promise<Result> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new Error('the store of this browser does not answer')),
      patienceMs,
    );
    work.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}
