import type { Board } from '@stemline/protocol/api/boards';
import { may } from '@stemline/protocol/permissions';

/** Whether who looks learns from the book alone, and this play is not in it any more. */
export const isOutOfTheBook = ({ archivedAt, member }: Board): boolean =>
  archivedAt !== null && !may(member.role, 'board.open');
