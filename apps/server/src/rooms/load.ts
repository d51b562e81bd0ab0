import type { ElementKey } from '@stemline/board/element-key';
import { migrate } from '@stemline/board/migrations';
import { type Packing, packingOf } from '@stemline/board/packed';
import { project } from '@stemline/board/project';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';
import { bookLine, type LoadedState } from './board-state.ts';
import type { Author, BoardStore, StoredBoard } from './store.ts';

/** The store has no such board. */
export class UnknownBoard extends Error {}

export interface LoadedBoard extends LoadedState {
  staffId: string;
  maker: Author;
  /** Updates since the last snapshot. */
  unfolded: number;
}

/** A board from the store at this build's document version, with nothing missing, or a throw (R22, R23). */
export async function loadBoard(store: BoardStore, boardId: string): Promise<LoadedBoard> {
  const stored = await store.load(boardId);
  if (!stored) throw new UnknownBoard(`there is no board ${boardId}`);
  const { ydoc, packing } = stateOf(stored);
  const written = clientsIn(ydoc);
  const last = stored.updates.at(-1)?.id ?? stored.snapshot?.id ?? 0n;
  const loaded: LoadedBoard = {
    boardId,
    ydoc,
    packing,
    packings: stored.packings,
    revision: stored.revision,
    staffId: stored.staffId,
    maker: stored.maker,
    line: stored.line,
    // Whatever was written and belongs to no member is the server's own.
    clients: new Map([...written.map((id) => [id, null] as const), ...stored.clients]),
    authors: new Map<ElementKey, Author>(stored.authors),
    unfolded: stored.updates.length,
    last,
  };
  return bringUpToDate(store, loaded);
}

function stateOf({ snapshot, updates }: StoredBoard): { ydoc: Y.Doc; packing: Packing | null } {
  const ydoc = newDocument();
  if (snapshot) Y.applyUpdate(ydoc, snapshot.bytes);
  const packing = snapshot?.packed ? packingOf(ydoc, snapshot.packed) : null;
  ydoc.transact(() => {
    for (const { bytes } of updates) Y.applyUpdate(ydoc, bytes);
  });
  if (ydoc.store.pendingStructs !== null || ydoc.store.pendingDs !== null) {
    throw new Error('the stored board builds on an update that is not stored');
  }
  return { ydoc, packing };
}

const clientsIn = (ydoc: Y.Doc): number[] => [...ydoc.store.clients.keys()];

/** Migrations are appended like any other update, before anybody sees the board. */
async function bringUpToDate(store: BoardStore, loaded: LoadedBoard): Promise<LoadedBoard> {
  const { ydoc, boardId } = loaded;
  const before = Y.encodeStateVector(ydoc);
  const opened = migrate(ydoc);
  if (!opened.ok) {
    throw new Error(
      opened.code === 'newer'
        ? `the board was written by a newer build (document version ${opened.version})`
        : `the stored board cannot be read: ${opened.why}`,
    );
  }
  if (opened.steps.length === 0) return loaded;
  const bytes = Y.encodeStateAsUpdate(ydoc, before);
  const line = bookLine(project(ydoc));
  const written = await store.append([
    {
      boardId,
      base: loaded.revision,
      updates: [{ bytes, memberId: null, at: new Date(), rebased: null }],
      clients: new Map(),
      authors: new Map(),
      line,
    },
  ]);
  const appended = written.get(boardId);
  if (appended === undefined) throw new UnknownBoard(`there is no board ${boardId}`);
  // Another server was first: what it wrote is what we load.
  if (appended === 'stale') return loadBoard(store, boardId);
  for (const id of clientsIn(ydoc)) if (!loaded.clients.has(id)) loaded.clients.set(id, null);
  const { last, revision } = appended;
  return { ...loaded, line, unfolded: loaded.unfolded + 1, last, revision };
}
