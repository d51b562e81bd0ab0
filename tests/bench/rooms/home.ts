import { createBoardState } from '@stemline/board/create';
import { builtInLooks } from '@stemline/football/shelf';
import { handPlay } from '@stemline/testkit/plays';
import pino from 'pino';
import { insertBoard } from '../../../apps/server/src/boards/create-board.ts';
import { openDatabase, type Prisma, toJson } from '../../../apps/server/src/database.ts';
import { type Person, person, testAuth, testSecret } from '../../rooms/support/accounts.ts';
import { startPostgres } from '../../rooms/support/postgres.ts';
import { type Side, startSide } from './sides.ts';

/** A staff with boards in a PostgreSQL of its own, and the whole of Stemline over it. */
export interface Home {
  databaseUrl: string;
  /** Where its PostgreSQL lives. */
  dataDir: string;
  prisma: Prisma;
  cookies: readonly string[];
  boards(count: number): Promise<string[]>;
  /** Stemline as in production; nothing is switched off. */
  start(env?: Record<string, string>): Promise<Side>;
  close(): Promise<void>;
}

const staffSize = 12;

export async function openHome(): Promise<Home> {
  const postgres = await startPostgres();
  const prisma = openDatabase(postgres.url, () => undefined);
  const auth = testAuth(prisma, pino({ level: 'silent' }));
  const { id: staffId } = await prisma.staff.create({ data: { name: 'Harbour staff' } });
  await prisma.look.createMany({
    data: builtInLooks.map((recipe, order) => ({
      staffId,
      name: recipe.name,
      recipe: toJson(recipe),
      order,
      createdBy: 'the benchmark',
    })),
  });
  const people: Person[] = [];
  for (let i = 0; i < staffSize; i++) {
    people.push(await person({ prisma, auth }, staffId, `Coach ${i + 1}`, 'coordinator'));
  }
  const [first] = people;
  if (!first) throw new Error('a staff has somebody');
  return {
    databaseUrl: postgres.url,
    dataDir: postgres.dataDir,
    prisma,
    cookies: people.map(({ cookie }) => cookie),
    async boards(count) {
      const ids: string[] = [];
      for (let i = 0; i < count; i++)
        ids.push(await prisma.$transaction((tx) => insertBoard(tx, first, handPlay(), [])));
      return ids;
    },
    start: (env = {}) =>
      startSide('Stemline', {
        NODE_ENV: 'production',
        DATABASE_URL: postgres.url,
        AUTH_SECRET: testSecret,
        DATA_DIR: postgres.dataDir,
        DEMO: '0',
        LOG_LEVEL: process.env.ROOMS_LOG ?? 'error',
        PUBLIC_URL: '',
        ...env,
      }),
    async close() {
      await prisma.$disconnect();
      await postgres.stop();
    },
  };
}

/** The benchmark's board as others are given it. */
export const boardState = (): Uint8Array => createBoardState(handPlay());

/** A copy of a board with its whole history. */
export async function copyBoard(prisma: Prisma, from: string, to: string): Promise<void> {
  await prisma.$transaction([
    prisma.boardUpdate.deleteMany({ where: { boardId: to } }),
    prisma.$executeRaw`
      INSERT INTO "BoardUpdate" ("boardId", bytes, "memberId", at)
      SELECT ${to}, bytes, "memberId", at FROM "BoardUpdate" WHERE "boardId" = ${from} ORDER BY id`,
    prisma.$executeRaw`
      INSERT INTO "BoardClient" ("boardId", "clientId", "memberId")
      SELECT ${to}, "clientId", "memberId" FROM "BoardClient" WHERE "boardId" = ${from}
      ON CONFLICT DO NOTHING`,
    // Up to the copy of the same update: the one with as many before it.
    prisma.$executeRaw`
      INSERT INTO "BoardSnapshot" ("boardId", "upTo", bytes, packed)
      SELECT ${to}, copied.id, s.bytes, s.packed FROM "BoardSnapshot" s
      JOIN (SELECT id, row_number() OVER (ORDER BY id) n FROM "BoardUpdate" WHERE "boardId" = ${from}) original
        ON original.id = s."upTo"
      JOIN (SELECT id, row_number() OVER (ORDER BY id) n FROM "BoardUpdate" WHERE "boardId" = ${to}) copied
        ON copied.n = original.n
      WHERE s."boardId" = ${from} ORDER BY s.id`,
    prisma.$executeRaw`
      UPDATE "Board" b SET revision = b.revision + 1, packings = original.packings
      FROM "Board" original WHERE b.id = ${to} AND original.id = ${from}`,
  ]);
}
