import {
  boardLineSchema,
  type boardPatchSchema,
  boardSchema,
  madeBoardSchema,
  type NewBoard,
} from '@stemline/protocol/api/boards';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';
import { lookAgainMs } from './query-client.ts';

/** The book whole; a staff has hundreds of plays, so search and order are done on the page. */
export const useBook = (staffId: string, archived: boolean) =>
  useQuery({
    refetchInterval: lookAgainMs,
    queryKey: keys.book(staffId, archived),
    queryFn: () =>
      answer(
        z.array(boardLineSchema),
        client.api.staffs[':staff'].boards.$get({
          param: { staff: staffId },
          query: { archived: archived ? 'yes' : 'no' },
        }),
      ),
  });

export const useBoard = (boardId: string, enabled = true) =>
  useQuery({
    enabled,
    queryKey: keys.board(boardId),
    queryFn: () =>
      answer(boardSchema, client.api.boards[':board'].$get({ param: { board: boardId } })),
  });

export function useCreateBoard(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (board: NewBoard) =>
      answer(
        madeBoardSchema,
        client.api.staffs[':staff'].boards.$post({ param: { staff: staffId }, json: board }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.boards(staffId) }),
  });
}

export function useDuplicateBoard(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ boardId, name }: { boardId: string; name: string }) =>
      answer(
        madeBoardSchema,
        client.api.boards[':board'].duplicate.$post({ param: { board: boardId }, json: { name } }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.boards(staffId) }),
  });
}

export function useArchiveBoard(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ boardId, ...patch }: { boardId: string } & z.infer<typeof boardPatchSchema>) =>
      done(client.api.boards[':board'].$patch({ param: { board: boardId }, json: patch })),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.boards(staffId) }),
  });
}
