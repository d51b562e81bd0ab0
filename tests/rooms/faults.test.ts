import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { z } from 'zod';
import { freePort } from '../../apps/server/src/cluster/free-port.ts';
import { openDatabase, type Prisma } from '../../apps/server/src/database.ts';
import type { Person } from './support/accounts.ts';
import { Coach, until } from './support/coach.ts';
import { startPostgres, type TestPostgres } from './support/postgres.ts';
import { type ServerProcess, startServerProcess } from './support/process.ts';
import { openStage, type Stage } from './support/stage.ts';

const H = asPlayerId('H');

/** Writes without pause until told to stop; every edit is a value of its own. */
function writing(coach: Coach): { stop(): Promise<number> } {
  let stopped = false;
  const done = (async () => {
    let written = 0;
    while (!stopped && written < 2_000) {
      written += 1;
      coach.board.setConcept(`${coach.ydoc.clientID} ${written}`);
      await new Promise((resolve) => setTimeout(resolve, 1));
    }
    return written;
  })();
  return {
    stop: () => {
      stopped = true;
      return done;
    },
  };
}

/** Client by client, what `vector` says is durable is in `ydoc`. */
function expectToHold(ydoc: Y.Doc, vector: Uint8Array): void {
  const has = Y.decodeStateVector(Y.encodeStateVector(ydoc));
  for (const [client, clock] of Y.decodeStateVector(vector)) {
    expect(has.get(client) ?? 0, `edits of client ${client}`).toBeGreaterThanOrEqual(clock);
  }
}

/** The board as its log says. */
async function replay(prisma: Prisma, boardId: string): Promise<Y.Doc> {
  const ydoc = new Y.Doc();
  const snapshot = await prisma.boardSnapshot.findFirst({
    where: { boardId },
    orderBy: { upTo: 'desc' },
  });
  if (snapshot) Y.applyUpdate(ydoc, snapshot.bytes);
  const rows = await prisma.boardUpdate.findMany({ where: { boardId }, orderBy: { id: 'asc' } });
  for (const { bytes } of rows) Y.applyUpdate(ydoc, bytes);
  expect(ydoc.store.pendingStructs).toBeNull();
  return ydoc;
}

describe('R5 the database is killed and comes back', () => {
  let postgres: TestPostgres;
  let prisma: Prisma;
  let stage: Stage;
  let head: Person;

  beforeAll(async () => {
    postgres = await startPostgres();
    prisma = openDatabase(postgres.url, () => undefined);
    stage = await openStage({ prisma });
    head = await stage.person(await stage.staff(), 'Ada Holm', 'headCoach');
  });
  afterAll(async () => {
    await stage?.close();
    await prisma?.$disconnect();
    await postgres?.stop();
  });

  it('nobody is disconnected, nothing is lost, and the room says how it stands', async () => {
    const board = await stage.board(head);
    const a = stage.coach(board, head);
    const b = stage.coach(board, head);
    await until('synced', () => a.synced && b.synced && a.saved.length > 0);
    for (let round = 1; round <= 2; round++) {
      const pens = [writing(a), writing(b)];
      const heard = a.saved.length;
      await until('saving', () => a.saved.length > heard + 5);
      const pidFile = join(postgres.dataDir, 'postgres', 'cluster', 'postmaster.pid');
      process.kill(Number((await readFile(pidFile, 'utf8')).split('\n')[0]), 'SIGKILL');
      const behind = () => a.events.filter((event) => event.kind === 'saving' && event.behind);
      const caughtUp = () => a.events.filter((event) => event.kind === 'saving' && !event.behind);
      await until('says it is behind', () => behind().length === round, 30_000);
      await until('says it has caught up', () => caughtUp().length === round, 60_000);
      const written = await Promise.all(pens.map((pen) => pen.stop()));
      expect(Math.min(...written)).toBeGreaterThan(10);
    }
    await until('all saved', () => a.isSaved && b.isSaved, 30_000);
    await until('equal', () =>
      Buffer.from(Y.encodeStateAsUpdate(a.ydoc)).equals(Y.encodeStateAsUpdate(b.ydoc)),
    );
    expect([...a.closes, ...b.closes]).toEqual([]);
    const stored = await replay(prisma, board);
    expect(Y.encodeStateAsUpdate(stored)).toEqual(Y.encodeStateAsUpdate(a.ydoc));
    expect(a.board.movePlayer(H, [-7, -1]).ok).toBe(true);
    await until(
      'goes on',
      () => b.board.snapshot().board.play.players.find(({ id }) => id === 'H')?.at[0] === -7,
    );
  }, 180_000);
});

describe('R4 the process is killed', () => {
  let dataDir: string;
  let port: number;
  let server: ServerProcess | null = null;

  beforeAll(async () => {
    dataDir = await mkdtemp(join(tmpdir(), 'stemline-rooms-'));
    port = await freePort();
    server = await startServerProcess(dataDir, port);
  }, 120_000);
  afterAll(async () => {
    await server?.stop();
    await rm(dataDir, { recursive: true, force: true });
  }, 60_000);

  /** Signs up over HTTP and founds a staff with a board. */
  async function aBoard(): Promise<{ cookie: string; board: string }> {
    const origin = `http://127.0.0.1:${port}`;
    let cookie = '';
    const post = async (path: string, body: unknown): Promise<unknown> => {
      const answer = await fetch(origin + path, {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin, ...(cookie ? { cookie } : {}) },
        body: JSON.stringify(body),
      });
      const text = await answer.text();
      expect(answer.ok, `${path}: ${text}`).toBe(true);
      if (!cookie)
        cookie = answer.headers
          .getSetCookie()
          .map((line) => line.split(';')[0])
          .join('; ');
      return JSON.parse(text);
    };
    await post('/api/auth/sign-up/email', {
      name: 'Ada Holm',
      email: 'ada@example.test',
      password: 'long enough, really',
    });
    const { staffId } = z
      .object({ staffId: z.string() })
      .parse(await post('/api/staffs', { name: 'Harbour' }));
    const { id } = z.object({ id: z.string() }).parse(
      await post(`/api/staffs/${staffId}/boards`, {
        name: 'Lantern',
        formation: 'doubles',
        code: 'college',
      }),
    );
    return { cookie, board: id };
  }

  it('goes on, and ends in good order, when nobody reads any more what it says', async () => {
    await server?.stop();
    // Something in it speaks all the time, as a library may on the console.
    const speaks = 'data:text/javascript,setInterval(()=>console.error(1),100).unref()';
    server = await startServerProcess(dataDir, port, { NODE_OPTIONS: `--import=${speaks}` });
    server.hangUp();
    await pause(500);
    const asked = fetch(`${server.origin}/readyz`, { signal: AbortSignal.timeout(10_000) });
    expect((await asked).status).toBe(200);
    expect(await server.stop()).toBe(0);
    server = await startServerProcess(dataDir, port);
  }, 120_000);

  it('in the middle of edits, three times: every acknowledged edit is there, the others return with their makers', async () => {
    const { cookie, board } = await aBoard();
    const rooms = `ws://127.0.0.1:${port}/rooms`;
    const coaches = [new Coach(rooms, board, cookie), new Coach(rooms, board, cookie)];
    const [a, b] = coaches as [Coach, Coach];
    await until('synced', () => a.synced && b.synced && a.saved.length > 0);
    for (const enough of [3, 17, 40]) {
      const heard = a.saved.length;
      const pens = coaches.map(writing);
      await until('acknowledged some', () => a.saved.length > heard + enough, 30_000);
      await server?.kill();
      // Some more, while nobody listens: these are unacknowledged for certain.
      await Promise.all(pens.map((pen) => pen.stop()));
      a.board.setName(`After kill ${enough}`);
      const acknowledged = coaches.map(
        (coach) => coach.saved.at(-1)?.stateVector ?? new Uint8Array(),
      );
      const kept = Y.encodeStateVector(a.ydoc);
      // Nobody returns before we have looked at what the server alone knows.
      for (const coach of coaches) coach.provider.disconnect();
      server = await startServerProcess(dataDir, port);
      const looking = new Coach(rooms, board, cookie);
      await until('read', () => looking.synced, 30_000);
      for (const vector of acknowledged) expectToHold(looking.ydoc, vector);
      for (const coach of coaches) coach.provider.connect();
      await until(
        'all are back and saved',
        () => coaches.every((coach) => coach.synced && coach.isSaved),
        30_000,
      );
      await until('everybody sees the last unacknowledged edit', () =>
        [b, looking].every(
          (coach) => coach.board.snapshot().board.play.name === `After kill ${enough}`,
        ),
      );
      expectToHold(looking.ydoc, kept);
      await until('equal', () =>
        coaches.every((coach) =>
          Buffer.from(Y.encodeStateAsUpdate(coach.ydoc)).equals(
            Y.encodeStateAsUpdate(looking.ydoc),
          ),
        ),
      );
      looking.leave();
    }
    for (const coach of coaches) coach.leave();
    expect(await server?.stop()).toBe(0);
    server = null;
  }, 240_000);
});
