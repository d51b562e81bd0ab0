import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { builtInLooks } from '@stemline/football/shelf';
import type { Group, Role } from '@stemline/protocol/roles';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { handPlay } from '@stemline/testkit/plays';
import pino from 'pino';
import { Registry } from 'prom-client';
import {
  type SessionOf,
  sessionReader,
  tokenReader,
} from '../../../apps/server/src/accounts/session.ts';
import { insertBoard } from '../../../apps/server/src/boards/create-board.ts';
import type { OpenBus } from '../../../apps/server/src/bus/bus.ts';
import { Servers } from '../../../apps/server/src/bus/servers.ts';
import { type Prisma, toJson } from '../../../apps/server/src/database.ts';
import { originCheck } from '../../../apps/server/src/http/origin.ts';
import { type RoomLimits, roomLimits } from '../../../apps/server/src/rooms/limits.ts';
import { prismaStore } from '../../../apps/server/src/rooms/prisma-store.ts';
import { createRooms, type Rooms } from '../../../apps/server/src/rooms/rooms.ts';
import type { BoardStore } from '../../../apps/server/src/rooms/store.ts';
import { freshDatabase } from '../../../apps/server/src/testing/database.ts';
import { type Person, person, testAuth } from './accounts.ts';
import { Coach } from './coach.ts';
import { type Raw, raw } from './raw.ts';

/** Rooms over real sockets, accounts and PostgreSQL. */
export interface Stage {
  prisma: Prisma;
  rooms: Rooms;
  servers: Servers | null;
  /** ws://…/rooms */
  url: string;
  port: number;
  staff(name?: string): Promise<string>;
  person(staffId: string, name: string, role: Role, group?: Group): Promise<Person>;
  board(by: Person, play?: RuledPlay): Promise<string>;
  coach(
    boardId: string,
    who: { cookie: string },
    ydoc?: ConstructorParameters<typeof Coach>[3],
  ): Coach;
  raw(boardId: string, headers?: Record<string, string>): Raw;
  close(): Promise<void>;
}

export interface StageOptions {
  limits?: Partial<RoomLimits>;
  /** Stands between the rooms and Postgres. */
  wrap?: (store: BoardStore) => BoardStore;
  /** Stands between the rooms and the sessions. */
  wrapSessions?: (sessionOf: SessionOf) => SessionOf;
  now?: () => Date;
  /** Where the rooms' metrics are read. */
  registry?: Registry;
  /** Left out: a fresh copy of the test run's database. */
  prisma?: Prisma;
  /** What leads to other servers on the same database; left out: there are none. */
  bus?: OpenBus;
}

export async function openStage({
  limits = {},
  wrap = (store) => store,
  wrapSessions = (sessionOf) => sessionOf,
  prisma: given,
  bus,
  registry = new Registry(),
  now = () => new Date(),
}: StageOptions = {}): Promise<Stage> {
  const prisma = given ?? (await freshDatabase()).prisma;
  const log = pino({ level: process.env.ROOMS_LOG ?? 'silent' });
  const auth = testAuth(prisma, log);
  const servers = bus
    ? new Servers({
        open: bus,
        limits: { ...roomLimits, ...limits },
        onStrange: (why) => {
          throw new Error(why);
        },
      })
    : null;
  const rooms = createRooms({
    prisma,
    sessionOf: wrapSessions(sessionReader(auth)),
    signedToken: tokenReader(auth),
    allowsOrigin: originCheck(null),
    log,
    trustProxy: false,
    registry,
    store: wrap(prismaStore(prisma, () => undefined)),
    limits,
    now,
    ...(servers ? { servers } : {}),
  });
  const server = createServer((_req, res) => res.writeHead(404).end());
  server.on('upgrade', (req, socket, head) => rooms.upgrade(req, socket, head));
  const port = await listen(server);
  const coaches = new Set<Coach>();
  const raws = new Set<Raw>();
  return {
    prisma,
    rooms,
    servers,
    url: `ws://127.0.0.1:${port}/rooms`,
    port,
    staff: async (name = 'Harbour staff') => {
      const { id } = await prisma.staff.create({ data: { name } });
      await prisma.look.createMany({
        data: builtInLooks.map((recipe, order) => ({
          staffId: id,
          name: recipe.name,
          recipe: toJson(recipe),
          order,
          createdBy: 'the tests',
        })),
      });
      return id;
    },
    person: (staffId, name, role, group) => person({ prisma, auth }, staffId, name, role, group),
    board: (by, play = handPlay()) => prisma.$transaction((tx) => insertBoard(tx, by, play, [])),
    coach(boardId, { cookie }, ydoc) {
      const coach = new Coach(`ws://127.0.0.1:${port}/rooms`, boardId, cookie, ydoc);
      coaches.add(coach);
      return coach;
    },
    raw(boardId, headers) {
      const opened = raw(`ws://127.0.0.1:${port}/rooms/${boardId}`, headers);
      raws.add(opened);
      return opened;
    },
    async close() {
      for (const coach of coaches) coach.leave();
      for (const { socket } of raws) socket.terminate();
      await rooms.close();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

function listen(server: Server): Promise<number> {
  return new Promise((resolve) => {
    server.listen(0, '127.0.0.1', () => resolve((server.address() as AddressInfo).port));
  });
}
