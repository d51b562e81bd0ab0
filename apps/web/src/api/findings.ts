import { findingHistorySchema } from '@stemline/protocol/api/boards';
import { useQuery } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client } from './client.ts';
import { keys } from './keys.ts';

/** Every finding that a board has had, newest first; those that stand now come live from its room. */
export const useFindingHistory = (boardId: string, enabled: boolean) =>
  useQuery({
    enabled,
    queryKey: keys.findingHistory(boardId),
    queryFn: () =>
      answer(
        z.array(findingHistorySchema),
        client.api.boards[':board'].findings.history.$get({ param: { board: boardId } }),
      ),
  });
