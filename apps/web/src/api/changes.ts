import {
  changeSchema,
  type decisionSchema,
  sentPlaySchema,
  type waiverSchema,
} from '@stemline/protocol/api/signoff';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';
import { lookAgainMs, watchMs } from './query-client.ts';

/** The install changes of one board, newest first. */
export const useChanges = (boardId: string) =>
  useQuery({
    queryKey: keys.changes(boardId),
    queryFn: () =>
      answer(
        z.array(changeSchema),
        client.api.boards[':board'].changes.$get({ param: { board: boardId } }),
      ),
  });

/**
 * Everything of one staff that waits for the head coach. `watched`: it is what he looks at, read when
 * he comes and every few seconds; else it is only counted beside something else.
 */
export const useWaiting = (staffId: string, { enabled = true, watched = false } = {}) =>
  useQuery({
    enabled,
    refetchInterval: watched ? watchMs : lookAgainMs,
    refetchOnMount: watched ? 'always' : true,
    queryKey: keys.waiting(staffId),
    queryFn: () =>
      answer(
        z.array(changeSchema),
        client.api.staffs[':staff'].changes.$get({
          param: { staff: staffId },
          query: { state: 'sentUp' },
        }),
      ),
  });

/** What was sent up never changes, so it is read once, and only by who opens it. */
export const useSentPlay = (changeId: string, enabled: boolean) =>
  useQuery({
    enabled,
    queryKey: keys.sent(changeId),
    staleTime: Number.POSITIVE_INFINITY,
    queryFn: () =>
      answer(
        sentPlaySchema,
        client.api.changes[':change'].play.$get({ param: { change: changeId } }),
      ),
  });

/** A change touches its board, the book and what waits: all are read again. */
function useSignOffWrite<Input>(
  { boardId, staffId }: { boardId: string; staffId: string },
  write: (input: Input) => Promise<void>,
) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: write,
    onSuccess: () =>
      Promise.all([
        queries.invalidateQueries({ queryKey: keys.board(boardId) }),
        queries.invalidateQueries({ queryKey: keys.waiting(staffId) }),
        queries.invalidateQueries({ queryKey: keys.boards(staffId) }),
      ]),
  });
}

interface Of {
  boardId: string;
  staffId: string;
}

export const useSendUp = (of: Of) =>
  useSignOffWrite(of, (message: string) =>
    done(
      client.api.boards[':board'].changes.$post({
        param: { board: of.boardId },
        json: { message },
      }),
    ),
  );

export const useDecide = (of: Of) =>
  useSignOffWrite(
    of,
    ({ changeId, decision }: { changeId: string; decision: z.input<typeof decisionSchema> }) =>
      done(
        client.api.changes[':change'].decision.$post({
          param: { change: changeId },
          json: decision,
        }),
      ),
  );

export const useWithdrawChange = (of: Of) =>
  useSignOffWrite(of, (changeId: string) =>
    done(client.api.changes[':change'].withdraw.$post({ param: { change: changeId } })),
  );

export const useWaive = (of: Of) =>
  useSignOffWrite(of, (waiver: z.infer<typeof waiverSchema>) =>
    done(client.api.boards[':board'].waivers.$post({ param: { board: of.boardId }, json: waiver })),
  );

export const useUnwaive = (of: Of) =>
  useSignOffWrite(of, (findingId: string) =>
    done(
      client.api.boards[':board'].waivers.$delete({
        param: { board: of.boardId },
        query: { findingId },
      }),
    ),
  );
