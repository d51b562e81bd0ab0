import { letInMemberSchema, type letInSchema } from '@stemline/protocol/api/boards';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';

/** Members who edit a board only, or more of it, where they are let in. */
export const useLetIn = (boardId: string) =>
  useQuery({
    queryKey: keys.letIn(boardId),
    queryFn: () =>
      answer(
        z.array(letInMemberSchema),
        client.api.boards[':board']['let-in'].$get({ param: { board: boardId } }),
      ),
  });

export function useSetLetIn(boardId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (wish: z.infer<typeof letInSchema>) =>
      done(client.api.boards[':board']['let-in'].$put({ param: { board: boardId }, json: wish })),
    onSettled: () => queries.invalidateQueries({ queryKey: keys.letIn(boardId) }),
  });
}
