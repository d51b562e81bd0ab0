import { count, transact } from 'lib0/indexeddb';
import { clearDocument, IndexeddbPersistence } from 'y-indexeddb';
import type * as Y from 'yjs';

/** The copy of a board that this browser keeps, so that unsaved work outlives a restart. */
export interface BrowserCopy {
  /** Settles when what was kept is in the document; gives the vector last called saved. */
  loaded: Promise<{ savedThen: Uint8Array | null }>;
  keepSaved(stateVector: Uint8Array): void;
  /** Settles when the browser's store has committed what was in the document by now; false: it did not. */
  written(): Promise<boolean>;
  close(): void;
  /** Forgets the copy; a copy opened after this begins empty. */
  drop(): Promise<void>;
}

export type OpenCopy = (name: string, doc: Y.Doc) => BrowserCopy;

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

/** A browser without IndexedDB works too; it only forgets when it is closed. */
export const openCopy: OpenCopy = (name, doc) => {
  if (typeof indexedDB === 'undefined') return nothingKept;
  const kept = new IndexeddbPersistence(name, doc);
  let failed = false;
  return {
    loaded: kept.whenSynced.then(async () => {
      // A write that the store gave up, for want of room for instance.
      kept.db?.addEventListener('abort', () => {
        failed = true;
      });
      const saved: unknown = await kept.get('saved');
      return { savedThen: saved instanceof ArrayBuffer ? new Uint8Array(saved) : null };
    }),
    keepSaved: (stateVector) => {
      void kept.set('saved', stateVector.slice().buffer);
    },
    async written() {
      await kept.whenSynced;
      if (!kept.db || failed) return false;
      // A transaction reads only when every write before it on the same store is over.
      const [updates] = transact(kept.db, ['updates'], 'readonly');
      if (updates) await count(updates);
      return !failed;
    },
    close: () => void kept.destroy(),
    async drop() {
      failed = true;
      await kept.destroy();
      await clearDocument(name);
    },
  };
};
