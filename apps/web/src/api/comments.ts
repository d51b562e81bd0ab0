import { threadSchema } from '@stemline/protocol/api/comments';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';

export const useThreads = (boardId: string) =>
  useQuery({
    queryKey: keys.comments(boardId),
    queryFn: () =>
      answer(
        z.array(threadSchema),
        client.api.boards[':board'].threads.$get({ param: { board: boardId } }),
      ),
  });

/** Every write reads the threads again, and the book, whose lines count the open ones. */
function useCommentWrite<Input>(boardId: string, write: (input: Input) => Promise<void>) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: write,
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.comments(boardId) }),
  });
}

export const useNewThread = (boardId: string) =>
  useCommentWrite(boardId, (thread: { anchor: string; text: string }) =>
    done(client.api.boards[':board'].threads.$post({ param: { board: boardId }, json: thread })),
  );

export const useReply = (boardId: string) =>
  useCommentWrite(boardId, ({ threadId, text }: { threadId: string; text: string }) =>
    done(
      client.api.threads[':thread'].comments.$post({ param: { thread: threadId }, json: { text } }),
    ),
  );

export const useReword = (boardId: string) =>
  useCommentWrite(boardId, ({ commentId, text }: { commentId: string; text: string }) =>
    done(client.api.comments[':comment'].$patch({ param: { comment: commentId }, json: { text } })),
  );

export const useDeleteComment = (boardId: string) =>
  useCommentWrite(boardId, (commentId: string) =>
    done(client.api.comments[':comment'].$delete({ param: { comment: commentId } })),
  );

export const useResolve = (boardId: string) =>
  useCommentWrite(boardId, ({ threadId, resolved }: { threadId: string; resolved: boolean }) =>
    done(client.api.threads[':thread'].$patch({ param: { thread: threadId }, json: { resolved } })),
  );
