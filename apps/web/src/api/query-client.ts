import { QueryCache, QueryClient } from '@tanstack/react-query';
import { ApiProblem } from './api-problem.ts';
import { keys } from './keys.ts';

/** Lists that others change while they are looked at, outside any room, are read again this often. */
export const lookAgainMs = 20_000;

/** And this often where somebody waits for what they bring. */
export const watchMs = 3000;

/** Once more for a network that blinked or a server that restarts; never for a refusal. */
const worthAnotherTry = (failures: number, error: Error): boolean =>
  failures < 2 && error instanceof ApiProblem && (error.status === 0 || error.status >= 500);

/** `onSignedOut` runs when a session has ended under an open page. */
export function makeQueryClient(onSignedOut: () => void): QueryClient {
  const queries = new QueryClient({
    queryCache: new QueryCache({
      onError: (error, query) => {
        if (error instanceof ApiProblem && error.status === 401 && query.queryKey[0] !== 'me')
          onSignedOut();
      },
    }),
    defaultOptions: {
      queries: { retry: worthAnotherTry, staleTime: 15_000, refetchOnWindowFocus: true },
      mutations: { retry: false },
    },
  });
  queries.setQueryDefaults(keys.unsent(), { gcTime: Number.POSITIVE_INFINITY });
  return queries;
}
