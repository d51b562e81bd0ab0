import type { LiveFinding } from '@stemline/protocol/message';
import type { Prisma } from '../database.ts';
import { storedText } from './stored-text.ts';

const lock = {
  name: 'lock findings',
  text: 'SELECT pg_advisory_xact_lock(4600003, hashtext($1))::text',
};

const record = {
  name: 'record findings',
  text: `
    WITH stands AS (
      SELECT * FROM jsonb_to_recordset($2::jsonb)
        AS s("findingId" text, kind text, severity text, says text, authors jsonb, "openedAt" timestamptz)
    ),
    closed AS (
      UPDATE "FindingRecord" SET "closedAt" = $3::timestamptz AT TIME ZONE 'UTC'
      WHERE "boardId" = $1 AND "closedAt" IS NULL
        AND "findingId" NOT IN (SELECT "findingId" FROM stands)
    )
    INSERT INTO "FindingRecord" (id, "boardId", "findingId", kind, severity, says, authors, "openedAt")
    SELECT gen_random_uuid()::text, b.id, s."findingId", s.kind, s.severity, s.says, s.authors,
      s."openedAt" AT TIME ZONE 'UTC'
    FROM stands s JOIN "Board" b ON b.id = $1
    WHERE NOT EXISTS (
      SELECT 1 FROM "FindingRecord" o
      WHERE o."boardId" = b.id AND o."closedAt" IS NULL AND o."findingId" = s."findingId"
    )`,
};

/**
 * Makes a board's open findings in the store exactly these. By statements of its own: a meeting does this
 * every other second, and by Prisma it took some tenth of the server's time.
 */
export async function recordFindings(
  { pool }: Pick<Prisma, 'pool'>,
  boardId: string,
  standing: readonly LiveFinding[],
  at: Date,
): Promise<void> {
  const stands = new Map(standing.map((live) => [live.finding.id, live]));
  const rows = [...stands.values()].map(({ finding, authors, openedAt }) => ({
    findingId: finding.id,
    kind: finding.kind,
    severity: finding.severity,
    says: storedText(finding.says),
    authors: authors.map(({ what, name }) => ({ what: storedText(what), name: storedText(name) })),
    openedAt,
  }));
  const client = await pool.connect();
  try {
    await client.query('BEGIN');
    // Two servers may each believe that they lead; what one opened the other must see as open.
    await client.query({ ...lock, values: [boardId] });
    await client.query({
      ...record,
      values: [boardId, JSON.stringify(rows), at.toISOString()],
    });
    await client.query('COMMIT');
  } catch (error) {
    // What was begun ends with its connection.
    client.release(true);
    throw error;
  }
  client.release();
}
