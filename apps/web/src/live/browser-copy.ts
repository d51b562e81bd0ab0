import { clearDocument, IndexeddbPersistence } from 'y-indexeddb';
import type * as Y from 'yjs';

/** The copy of a board that this browser keeps, so that unsaved work outlives a restart. */
export interface BrowserCopy {
  /** Settles when what was kept is in the document; gives the vector last called saved. */
  loaded: Promise<{ savedThen: Uint8Array | null }>;
  keepSaved(stateVector: Uint8Array): void;
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
  close: () => undefined,
  drop: () => Promise.resolve(),
};

/** A browser without IndexedDB works too; it only forgets when it is closed. */
export const openCopy: OpenCopy = (name, doc) => {
  if (typeof indexedDB === 'undefined') return nothingKept;
  const kept = new IndexeddbPersistence(name, doc);
  return {
    loaded: kept.whenSynced.then(async () => {
      const saved: unknown = await kept.get('saved');
      return { savedThen: saved instanceof ArrayBuffer ? new Uint8Array(saved) : null };
    }),
    keepSaved: (stateVector) => {
      void kept.set('saved', stateVector.slice().buffer);
    },
    close: () => void kept.destroy(),
    async drop() {
      await kept.destroy();
      await clearDocument(name);
    },
  };
};
