import type { BoardPlay } from '@stemline/board/board-play';
import { createBoardState } from '@stemline/board/create';
import { BoardDocument } from '@stemline/board/document';
import { newDocument } from '@stemline/board/schema';
import * as Y from 'yjs';
import { Link } from './link.ts';
import { handPlay } from './plays.ts';

/** A coach before a board of his own, opened from a stored state; `clientId` makes runs repeatable. */
export function coachAt(state: Uint8Array, clientId: number): BoardDocument {
  const ydoc = newDocument(clientId);
  Y.applyUpdate(ydoc, state);
  return new BoardDocument(ydoc);
}

export interface TwoCoaches {
  readonly a: BoardDocument;
  readonly b: BoardDocument;
  readonly line: Link;
  /** What the server made before either opened it. */
  readonly state: Uint8Array;
}

/** Two coaches before the same board; nothing passes between them until the line lets it. */
export function twoCoaches(board: BoardPlay = { play: handPlay(), notes: [] }): TwoCoaches {
  const state = createBoardState(board.play, board.notes);
  const a = coachAt(state, 101);
  const b = coachAt(state, 202);
  return { a, b, line: new Link(a.ydoc, b.ydoc), state };
}
