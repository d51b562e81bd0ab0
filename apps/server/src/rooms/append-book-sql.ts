import type { BoardAppend } from './store.ts';
import { storedText } from './stored-text.ts';

/** Whoever raises the revision holds the lock of the row; all else is written from the row that it raised. */
export const book = `
  book AS (
    UPDATE "Board"
    SET name = $3, concept = $4, formation = $5, "updatedAt" = $6, revision = revision + 1
    WHERE id = $1 AND revision = $2
    RETURNING id, revision
  )`;

/** `$1` to `$6` of a statement with `book`. */
export const bookValues = ({ boardId, base, line, updates }: BoardAppend): unknown[] => [
  boardId,
  base,
  storedText(line.name),
  storedText(line.concept),
  storedText(line.formation),
  utc(updates.at(-1)?.at ?? new Date()),
];

/** A column without a zone leaves the Z unread. */
export const utc = (at: Date): string => at.toISOString();
