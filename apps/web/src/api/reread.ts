import type { QueryClient, QueryKey } from '@tanstack/react-query';

/**
 * Reads again what changed on the server. A first read that is still under way may have missed the
 * change, and invalidating does not restart it: it is waited for, then read again.
 */
export async function reread(queries: QueryClient, queryKey: QueryKey): Promise<void> {
  const firstReads = queries
    .getQueryCache()
    .findAll({ queryKey, fetchStatus: 'fetching' })
    .filter(({ state }) => state.data === undefined);
  await Promise.allSettled(firstReads.map((query) => query.promise));
  await queries.invalidateQueries({ queryKey });
}
