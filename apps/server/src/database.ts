import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { type Prisma as Generated, PrismaClient } from './generated/prisma/client.ts';
import { StatementNames } from './statement-names.ts';

export type Transaction = Generated.TransactionClient;

/** Connections of one process to the database. */
const poolSize = 16;
/** Milliseconds until a connection that nobody answers is given up. */
const connectPatience = 10_000;
/**
 * Milliseconds until a statement that is not answered is given up, and its connection with it. A database
 * that went without a word (its machine, or the network between) would otherwise hold whoever asked it
 * until TCP gives up, a quarter of an hour later. No statement of ours takes a tenth of this.
 */
const answerPatience = 20_000;

/** The one client of a process. */
export class Prisma extends PrismaClient {
  /** Its connections themselves, for the one statement that is asked too often for anything between. */
  readonly pool: pg.Pool;
  /** One more, which only commits take: pages that open and lists that are read may hold all the others. */
  readonly commits: pg.Pool;

  constructor(settings: pg.PoolConfig, onLost: (error: Error) => void) {
    const names = new StatementNames();
    const pool = new pg.Pool({ ...settings, max: poolSize });
    super({
      adapter: new PrismaPg(pool, {
        disposeExternalPool: true,
        onPoolError: onLost,
        onConnectionError: onLost,
        statementNameGenerator: ({ sql }) => names.of(sql),
      }),
      transactionOptions: { maxWait: 5000, timeout: 15_000 },
      // Any longer and the error of a query repeats what was asked, secrets and all.
      errorFormat: 'minimal',
    });
    this.pool = pool;
    this.commits = new pg.Pool({ ...settings, max: 1, idleTimeoutMillis: 0 });
    this.commits.on('error', onLost);
  }

  override async $disconnect(): Promise<void> {
    await Promise.all([this.commits.end(), super.$disconnect()]);
  }
}

/** `onLost`: a connection broke; another is made when needed. `patienceMs`: of a statement. */
export function openDatabase(
  url: string,
  onLost: (error: Error) => void,
  patienceMs = answerPatience,
): Prisma {
  const settings = {
    connectionString: url,
    connectionTimeoutMillis: connectPatience,
    query_timeout: patienceMs,
  };
  return new Prisma(settings, onLost);
}

/**
 * Whoever takes this lock of a board waits for the other, until his transaction ends; the room's writes go on
 * meanwhile. A lock of its row would hold them up, and with them the commits of all rooms of the server.
 */
export async function lockBoard(transaction: Transaction, boardId: string): Promise<void> {
  await transaction.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`board ${boardId}`}, 0))`;
}

export async function lockStaff(transaction: Transaction, staffId: string): Promise<void> {
  await transaction.$queryRaw`SELECT 1 FROM "Staff" WHERE id = ${staffId} FOR NO KEY UPDATE`;
}

/** What Prisma, Postgres and Node call it. */
const awayCodes = new Set([
  ...['P1001', 'P1002', 'P1008', 'P1017', 'P2024', 'P2028'],
  ...['57P01', '57P02', '57P03', '53300'],
  ...[
    'ECONNREFUSED',
    'ECONNRESET',
    'EPIPE',
    'ETIMEDOUT',
    'EHOSTUNREACH',
    'ENETUNREACH',
    'ENOTFOUND',
  ],
]);
/** Of errors of the driver that have no code, or one that stands for anything. */
const awayWords =
  /Query read timeout|Connection terminated|timeout exceeded when trying to connect|Can't reach database server/;

/** The database could not be reached, or not in time; what was asked of it may be right. */
export const isAway = (error: unknown): boolean =>
  error instanceof Error &&
  (('code' in error && awayCodes.has(String(error.code))) || awayWords.test(error.message));

/** A unique index said no. */
export const isTaken = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'P2002';

/** A value of one of our schemas, as a JSON column takes it. */
export const toJson = (value: unknown): Generated.InputJsonValue =>
  JSON.parse(JSON.stringify(value));
