import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { PrismaClient } from './generated/prisma/client.ts';

export type Prisma = PrismaClient;

/** Connections of one process to the database. */
const poolSize = 16;
const connectPatience = 10_000;

/** The one client of a process. `onLost`: a connection broke; the pool makes another when needed. */
export function openDatabase(url: string, onLost: (error: Error) => void): Prisma {
  const adapter = new PrismaPg(
    { connectionString: url, max: poolSize, connectionTimeoutMillis: connectPatience },
    { onPoolError: onLost, onConnectionError: onLost },
  );
  return new PrismaClient({ adapter, transactionOptions: { maxWait: 5000, timeout: 15_000 } });
}

/** Throws a plain sentence when nobody answers at `url`, or does not let us in. */
export async function tryDatabase(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: connectPatience });
  client.on('error', () => undefined);
  await client.connect();
  await client.end();
}
