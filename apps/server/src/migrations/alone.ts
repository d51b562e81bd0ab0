import pg from 'pg';

/** Any number that nothing else in the database locks. */
const lockNumber = 4_600_001;

/** Does what only one of several processes may do at a time on one database; the others wait. */
export async function alone<T>(url: string, work: () => Promise<T>): Promise<T> {
  const guard = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await guard.connect();
  try {
    await guard.query('SELECT pg_advisory_lock($1)', [lockNumber]);
    return await work();
  } finally {
    // Ending the connection gives the lock back.
    await guard.end();
  }
}
