import { historySchema, pastBoardSchema } from '@stemline/protocol/api/history';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { answer, client } from './client.ts';
import { keys } from './keys.ts';

/** When a play was edited and by whom, newest first. */
export const useHistory = (boardId: string, enabled: boolean) =>
  useQuery({
    enabled,
    queryKey: keys.history(boardId),
    queryFn: () =>
      answer(
        historySchema,
        client.api.boards[':board'].history.$get({ param: { board: boardId } }),
      ),
  });

/** The play as it was; what it would change is told anew each time it is asked for. */
export const usePast = (boardId: string, time: string | undefined) =>
  useQuery({
    enabled: time !== undefined,
    queryKey: keys.past(boardId, time ?? ''),
    queryFn: () =>
      answer(
        pastBoardSchema,
        client.api.boards[':board'].at.$get({
          param: { board: boardId },
          query: { time: time ?? '' },
        }),
      ),
  });

export function useRestore(boardId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (time: string) =>
      answer(
        pastBoardSchema.pick({ time: true }),
        client.api.boards[':board'].restore.$post({ param: { board: boardId }, json: { time } }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.board(boardId) }),
  });
}
