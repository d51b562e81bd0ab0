import { createConnection } from 'node:net';
import { problemSchema } from '@stemline/protocol/problem';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import { callerOf } from '../../apps/server/src/rooms/door.ts';
import type { BoardStore } from '../../apps/server/src/rooms/store.ts';
import type { Person } from './support/accounts.ts';
import { socketWith, until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let head: Person;
let assistant: Person;
let player: Person;
let stranger: Person;
let board: string;
/** Boards asked for from the store: whoever is refused has asked for none. */
const loaded: string[] = [];

const watched = (store: BoardStore): BoardStore => ({
  ...store,
  load: (boardId) => {
    loaded.push(boardId);
    return store.load(boardId);
  },
});

beforeAll(async () => {
  stage = await openStage({ wrap: watched });
  const staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  assistant = await stage.person(staff, 'Cem Aydin', 'assistant');
  player = await stage.person(staff, 'Drew Lund', 'player');
  stranger = await stage.person(await stage.staff('Other staff'), 'Eve Stone', 'headCoach');
  board = await stage.board(head);
});
afterAll(() => stage?.close());

describe('the door', () => {
  it.each<[string, () => Record<string, string>, () => string, number]>([
    ['R12 nobody signed in', () => ({}), () => board, 4401],
    [
      'R12 a made-up cookie',
      () => ({ cookie: 'stemline.session_token=made.up' }),
      () => board,
      4401,
    ],
    ['R12 an unknown board', () => ({ cookie: head.cookie }), () => 'no-such-board', 4404],
    ["R12 another staff's board", () => ({ cookie: stranger.cookie }), () => board, 4404],
    ['R15 a player', () => ({ cookie: player.cookie }), () => board, 4403],
  ])(
    'R10 %s is closed with the code that stops a client, and opens no room',
    async (_name, headers, boardId, code) => {
      const before = loaded.length;
      const visitor = stage.raw(boardId(), headers());
      await visitor.opened;
      const closed = await visitor.closed;
      expect(closed.code).toBe(code);
      expect(closed.reason).not.toBe('');
      expect(visitor.frames).toEqual([]);
      expect(loaded).toHaveLength(before);
      expect(stage.rooms.stats().connections).toBe(0);
    },
  );

  it('R12 an untouched y-websocket provider gives up when it is refused', async () => {
    const ydoc = new Y.Doc();
    const provider = new WebsocketProvider(stage.url, board, ydoc, {
      WebSocketPolyfill: socketWith({}),
      disableBc: true,
    });
    const code = await new Promise((resolve) =>
      provider.once('closed', (closed) => resolve(closed.code)),
    );
    expect(code).toBe(4401);
    expect(provider.shouldConnect).toBe(false);
    provider.destroy();
  });

  it('R11 a foreign origin gets 403 and no socket; the own one and none pass', async () => {
    const foreign = stage.raw(board, { cookie: head.cookie, origin: 'https://elsewhere.example' });
    const answer = await foreign.answered;
    expect(answer.status).toBe(403);
    expect(answer.type).toBe('application/problem+json');
    expect(problemSchema.parse(JSON.parse(answer.body)).type).toBe(
      'urn:stemline:problem:foreignOrigin',
    );
    const own = stage.raw(board, { cookie: head.cookie, origin: `http://127.0.0.1:${stage.port}` });
    await until('own origin greeted', () => own.frames.length > 0);
    const none = stage.raw(board, { cookie: head.cookie });
    await until('no origin greeted', () => none.frames.length > 0);
    own.socket.close();
    none.socket.close();
  });

  it.each([
    ['another path', 'GET /elsewhere HTTP/1.1', 'websocket', 404],
    ['a path that climbs', 'GET /rooms/../../etc HTTP/1.1', 'websocket', 404],
    ['an id of other letters', 'GET /rooms/%00 HTTP/1.1', 'websocket', 404],
    ['another protocol', 'GET /rooms/x HTTP/1.1', 'h2c', 400],
  ])('R13 %s is answered with a problem', async (_name, line, protocol, status) => {
    const answer = await spoken(
      `${line}\r\nHost: x\r\nConnection: Upgrade\r\nUpgrade: ${protocol}\r\n\r\n`,
    );
    expect(answer).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(answer).toContain('application/problem+json');
  });

  it('R13 a handshake without a key is answered with a problem', async () => {
    const answer = await spoken(
      `GET /rooms/${board} HTTP/1.1\r\nHost: x\r\nCookie: ${head.cookie}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\r\n`,
    );
    expect(answer).toMatch(/^HTTP\/1.1 400 /);
    expect(answer).toContain('application/problem+json');
  });

  it('an assistant who is not let in may look', async () => {
    const coach = stage.coach(board, assistant);
    await until('greeted', () => coach.synced && coach.mayEdit === false);
    expect(coach.hellos[0]).toMatchObject({
      member: { name: 'Cem Aydin', role: 'assistant' },
      positions: [],
    });
    expect(coach.board.snapshot().board.play.players).toHaveLength(11);
    coach.leave();
  });
});

describe('limits at the door', () => {
  it('R14 an address that was refused too often is not looked at, for a minute', async () => {
    const tired = await openStage({
      prisma: stage.prisma,
      limits: { refusedUpgradesPerMinute: 3 },
    });
    for (let i = 0; i < 3; i++) {
      const visitor = tired.raw(board, {});
      expect((await visitor.closed).code).toBe(4401);
    }
    expect((await tired.raw(board, {}).answered).status).toBe(429);
    await tired.close();
  });

  it('R14 who makes up cookies counts as his address, and the store is not asked about them', async () => {
    let asked = 0;
    const tired = await openStage({
      prisma: stage.prisma,
      limits: { refusedUpgradesPerMinute: 3 },
      wrapSessions: (sessionOf) => (headers) => {
        asked += 1;
        return sessionOf(headers);
      },
    });
    const madeUp = (i: number) => {
      const signature = Buffer.alloc(32, i).toString('base64');
      return `stemline.session_token=${encodeURIComponent(`session${i}.${signature}`)}`;
    };
    for (let i = 0; i < 3; i++)
      expect((await tired.raw(board, { cookie: madeUp(i) }).closed).code).toBe(4401);
    expect((await tired.raw(board, { cookie: madeUp(3) }).answered).status).toBe(429);
    expect(asked).toBe(0);
    const colleague = tired.raw(board, { cookie: head.cookie });
    await until('his colleague gets in', () => colleague.frames.length > 0);
    await tired.close();
  });

  it('R14 the addresses of one IPv6 network are one', () => {
    expect(callerOf('2001:db8::1', null)).toBe(callerOf('2001:db8::2', null));
    expect(callerOf('2001:db8::1', 'a session')).toBe(callerOf('2001:db8::2', 'a session'));
    expect(callerOf('::ffff:192.0.2.1', null)).not.toBe(callerOf('::ffff:192.0.2.2', null));
  });

  it('R14 a session that is refused is the same one whatever stands beside it', async () => {
    const tired = await openStage({
      prisma: stage.prisma,
      limits: { refusedUpgradesPerMinute: 3 },
    });
    const cookie = (i: number) => `other=${i}; ${player.cookie}`;
    for (let i = 0; i < 3; i++)
      expect((await tired.raw(board, { cookie: cookie(i) }).closed).code).toBe(4403);
    expect((await tired.raw(board, { cookie: cookie(3) }).answered).status).toBe(429);
    await tired.close();
  });

  it('R14 a person has so many sockets and no more', async () => {
    const narrow = await openStage({ prisma: stage.prisma, limits: { maxSocketsPerUser: 2 } });
    const [one, two] = [{}, {}].map(() => narrow.raw(board, { cookie: head.cookie }));
    await until('two are in', () => (one?.frames.length ?? 0) > 0 && (two?.frames.length ?? 0) > 0);
    expect((await narrow.raw(board, { cookie: head.cookie }).closed).code).toBe(4429);
    one?.socket.close();
    await one?.closed;
    const again = narrow.raw(board, { cookie: head.cookie });
    await until('there is room again', () => again.frames.length > 0);
    await narrow.close();
  });

  it('R14 a thousand who come at once all get in', async () => {
    const rush = Array.from({ length: 1_000 }, () => stage.raw(board, { cookie: head.cookie }));
    const refused = (one: (typeof rush)[number]) =>
      Promise.race([one.opened, one.answered.then(({ status }) => status)]);
    expect((await Promise.all(rush.map(refused))).filter(Boolean)).toEqual([]);
    for (const { socket } of rush) socket.terminate();
  }, 60_000);

  it('R14 so many may wait for a decision and no more', async () => {
    const narrow = await openStage({ prisma: stage.prisma, limits: { maxUndecidedUpgrades: 0 } });
    expect((await narrow.raw(board, { cookie: head.cookie }).answered).status).toBe(503);
    await narrow.close();
  });
});

/** What the server answers to bytes of our own. */
function spoken(request: string): Promise<string> {
  return new Promise((resolve) => {
    const socket = createConnection(stage.port, '127.0.0.1', () => socket.write(request));
    let answer = '';
    socket.on('data', (chunk) => {
      answer += chunk.toString();
    });
    socket.on('close', () => resolve(answer));
    socket.on('error', () => resolve(answer));
  });
}
