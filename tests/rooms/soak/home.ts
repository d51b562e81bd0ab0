import { builtInLooks } from '@stemline/football/shelf';
import type { Group, Role } from '@stemline/protocol/roles';
import { handPlay } from '@stemline/testkit/plays';
import pino from 'pino';
import { insertBoard } from '../../../apps/server/src/boards/create-board.ts';
import { freePort } from '../../../apps/server/src/cluster/free-port.ts';
import { openDatabase, type Prisma, toJson } from '../../../apps/server/src/database.ts';
import { type Person, person, testAuth, testSecret } from '../support/accounts.ts';
import { startPostgres } from '../support/postgres.ts';
import { type ServerProcess, startServerProcess } from '../support/process.ts';

/** A staff and its boards in a PostgreSQL that outlives the server, and the server as a process. */
export interface Home {
  prisma: Prisma;
  /** Where its PostgreSQL lives. */
  dataDir: string;
  /** ws://…/rooms; the same over every start of the server. */
  rooms: string;
  person(name: string, role: Role, group?: Group): Promise<Person>;
  board(by: Person): Promise<string>;
  /** `at`: a port of its own; left out, the one of `rooms`. */
  start(at?: number, env?: Record<string, string>): Promise<ServerProcess>;
  close(): Promise<void>;
}

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
      createdBy: 'the soak',
    })),
  });
  const port = await freePort();
  return {
    prisma,
    dataDir: postgres.dataDir,
    rooms: `ws://127.0.0.1:${port}/rooms`,
    person: (name, role, group) => person({ prisma, auth }, staffId, name, role, group),
    board: (by) => prisma.$transaction((tx) => insertBoard(tx, by, handPlay(), [])),
    start: (at = port, env = {}) =>
      startServerProcess(postgres.dataDir, at, {
        DATABASE_URL: postgres.url,
        AUTH_SECRET: testSecret,
        LOG_LEVEL: 'error',
        ...env,
      }),
    async close() {
      await prisma.$disconnect();
      await postgres.stop();
    },
  };
}
