import type { ArchivedBoard, StaffArchive } from '@stemline/protocol/api/archive';
import type { Problem } from '@stemline/protocol/problem';
import type { ProblemKind } from '../../api/problem.ts';

/** An archive but for its boards. */
export interface ArchiveHead extends Pick<StaffArchive, 'staff' | 'exportedAt' | 'looks'> {
  boards: number;
}

/** A board of an archive, and the document that holds it. */
export interface ReadBoard {
  board: ArchivedBoard;
  state: Uint8Array<ArrayBuffer>;
}

/** What the reading thread says: one of these at first, then a board each time it is asked for the next. */
export type Said =
  | { kind: 'unfit'; problem: ProblemKind; detail: string; where: Problem['where'] }
  | { kind: 'head'; head: ArchiveHead }
  | { kind: 'board'; board: ReadBoard };
