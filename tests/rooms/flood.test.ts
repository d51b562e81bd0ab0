import { Buffer } from 'node:buffer';
import { createConnection, type Socket } from 'node:net';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { Connection } from '../../apps/server/src/rooms/connection.ts';
import { Room } from '../../apps/server/src/rooms/room.ts';
import { RoomSocket } from '../../apps/server/src/rooms/socket.ts';
import type { Person } from './support/accounts.ts';
import { until } from './support/coach.ts';
import { answer, ask, change, presence, type Raw } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

const maxOfConnection = 64;
const maxOfPerson = 256;

let stage: Stage;
let staff: string;
let head: Person;
let ben: Person;

beforeAll(async () => {
  stage = await openStage();
  staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
});
afterEach(() => void vi.restoreAllMocks());
afterAll(() => stage?.close());

/** As a client sends them: final, masked with nothing. */
const framed = (payload: Uint8Array, opcode = 2): Buffer =>
  Buffer.concat([Buffer.from([0x80 | opcode, 0x80 | payload.byteLength, 0, 0, 0, 0]), payload]);
const many = (count: number, payload: Uint8Array, opcode?: number): Buffer =>
  Buffer.concat(Array<Buffer>(count).fill(framed(payload, opcode)));

/** A socket of bytes of our own, upgraded and let in. */
async function bare(at: Stage, board: string, cookie: string): Promise<Socket> {
  const socket = createConnection(at.port, '127.0.0.1');
  socket.on('error', () => undefined);
  const greeted = new Promise((resolve) => socket.once('data', resolve));
  socket.write(
    `GET /rooms/${board} HTTP/1.1\r\nHost: x\r\nCookie: ${cookie}\r\nConnection: Upgrade\r\n` +
      'Upgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: c3RlbWxpbmUgdGVzdHMhIQ==\r\n\r\n',
  );
  await greeted;
  return socket;
}

/** How much is taken in one turn of the loop, of one connection and of everybody. */
function watchTurns<One extends Room | Connection>(
  whose: One,
  method: 'receive' | 'controlled',
  connectionOf: (self: unknown, told: unknown[]) => unknown,
) {
  const seen = { all: 0, most: 0, mostOfOne: 0 };
  let turn = new Map<unknown, number>();
  const target = whose as unknown as Record<string, (...told: unknown[]) => void>;
  const real = target[method];
  vi.spyOn(target, method).mockImplementation(function (this: unknown, ...told) {
    if (turn.size === 0) setImmediate(() => (turn = new Map()));
    const connection = connectionOf(this, told);
    turn.set(connection, (turn.get(connection) ?? 0) + 1);
    seen.all += 1;
    seen.mostOfOne = Math.max(seen.mostOfOne, turn.get(connection) ?? 0);
    seen.most = Math.max(seen.most, sum([...turn.values()]));
    real?.apply(this, told);
  });
  return seen;
}
const sum = (counts: number[]): number => counts.reduce((all, count) => all + count, 0);

const kinds = [
  ['requests to sync', ask(), 2],
  ['questions who is here', Uint8Array.of(3), 2],
  ['presence of nobody', presence([]), 2],
  ['answers to no ping', new Uint8Array(), 10],
] as const;

describe('floods of tiny frames', () => {
  it.each(kinds)(
    'R113 %s: of each connection and each person only a share is taken in one turn',
    async (_name, payload, opcode) => {
      const board = await stage.board(head);
      // Somebody who has not flooded a moment ago: what one may send in a second counts.
      const { cookie } = await stage.person(staff, 'Cal Ode', 'coordinator');
      const seen =
        opcode === 2
          ? watchTurns(Room.prototype, 'receive', (_room, [connection]) => connection)
          : watchTurns(Connection.prototype, 'controlled', (connection) => connection);
      const sockets = await Promise.all(
        Array.from({ length: 10 }, () => bare(stage, board, cookie)),
      );
      for (const socket of sockets) socket.write(many(2_000, payload, opcode));
      await expect.poll(() => seen.all, { timeout: 20_000 }).toBe(20_000);
      // What was read and what had waited may come in one turn.
      expect(seen.mostOfOne).toBeLessThanOrEqual(2 * maxOfConnection);
      expect(seen.most).toBeLessThanOrEqual(2 * maxOfPerson);
      for (const socket of sockets) socket.destroy();
      await until('all gone', () => stage.rooms.stats().connections === 0);
    },
  );

  it('R113 hundreds of frames at once, as of a client that was away, are all taken, in order', async () => {
    const board = await stage.board(head);
    const colleague = stage.coach(board, head);
    await until('synced', () => colleague.synced);
    const socket = await bare(stage, board, ben.cookie);
    const ydoc = new Y.Doc();
    const frames = [framed(answer(Uint8Array.of(0, 0)))];
    ydoc.on('update', (update: Uint8Array) => {
      frames.push(framed(change(update)), framed(ask()), framed(Uint8Array.of(3)));
    });
    for (let i = 0; i < 700; i++) ydoc.getMap('meta').set('concept', `${i}`);
    frames.push(framed(presence([{ id: 4711, clock: 1, state: { cursor: [1, 2] } }])));
    socket.write(Buffer.concat(frames));
    await until('the last of them is seen', () =>
      colleague.provider.awareness.getStates().has(4711),
    );
    const { content } = await stage.rooms.freeze(board);
    expect(content.play.concept).toBe('699');
    socket.destroy();
    colleague.leave();
  });

  it('R113 who floods on and on is cut off with 4429, and nobody else', async () => {
    const strict = await openStage({ prisma: stage.prisma, limits: { maxFullTurnsPerSecond: 3 } });
    const board = await strict.board(head);
    const colleague = strict.coach(board, head);
    const quiet = strict.raw(board, { cookie: ben.cookie });
    const loud = strict.raw(board, { cookie: ben.cookie });
    await until('all in', () => colleague.synced && quiet.frames.length > 0);
    await loud.opened;
    for (let i = 0; i < 2_000; i++) loud.send(ask());
    expect(await loud.closed).toEqual({ code: 4429, reason: 'Too many requests' });
    colleague.board.setName('Undisturbed');
    await until('saved', () => colleague.isSaved);
    expect(colleague.closes).toEqual([]);
    expect(quiet.socket.readyState).toBe(quiet.socket.OPEN);
    await strict.close();
  });

  it('R113 of what somebody sends who was refused at the door next to nothing is read', async () => {
    const board = await stage.board(head);
    let read = 0;
    const ends: unknown[] = [];
    const emit = RoomSocket.prototype.emit;
    vi.spyOn(RoomSocket.prototype, 'emit').mockImplementation(function (this: RoomSocket, ...told) {
      if (told[0] === 'message') read += 1;
      if (told[0] === 'close') ends.push(this);
      return emit.apply(this, told);
    });
    const socket = await bare(stage, board, 'none=none');
    socket.write(many(5_000, ask()));
    await until('it is gone', () => ends.length > 0);
    expect(read).toBeGreaterThan(0);
    expect(read).toBeLessThan(2 * maxOfConnection);
    socket.destroy();
  });

  it('R113 a message in hundreds of pieces is none', async () => {
    const board = await stage.board(head);
    const { socket, closed, opened } = stage.raw(board, { cookie: ben.cookie });
    await opened;
    for (let i = 0; i < 300; i++) socket.send(Uint8Array.of(0), { fin: false });
    expect((await closed).code).toBe(4400);
  });
});

describe('what is kept of a client that it does not finish', () => {
  it('R114 one that goes on and on is ended, though its sender answers every heartbeat', async () => {
    const quick = await openStage({ prisma: stage.prisma, limits: { heartbeatMs: 60 } });
    const board = await quick.board(head);
    const slow = quick.raw(board, { cookie: ben.cookie });
    const colleague = quick.raw(board, { cookie: head.cookie });
    await until('in', () => slow.frames.length > 0 && colleague.frames.length > 0);
    slow.socket.send(new Uint8Array(100_000), { fin: false });
    expect(await slow.closed).toEqual({ code: 4501, reason: 'A message was not finished' });
    expect(colleague.socket.readyState).toBe(colleague.socket.OPEN);
    await quick.close();
  });

  it.each([
    ['unfinished', (raw: Raw) => raw.socket.send(new Uint8Array(300_000), { fin: false })],
    ['ahead of the answer to the sync', (raw: Raw) => raw.send(change(new Uint8Array(300_000)))],
  ])(
    'R114 so many bytes one person may have on all connections, and no more: %s',
    async (_, hold) => {
      const narrow = await openStage({
        prisma: stage.prisma,
        limits: { heartbeatMs: 1_600, maxHeldBytesPerUser: 1_000_000, earlyPatienceMs: 20_000 },
      });
      const board = await narrow.board(head);
      const sockets = Array.from({ length: 4 }, () => narrow.raw(board, { cookie: ben.cookie }));
      const colleague = narrow.raw(board, { cookie: head.cookie });
      await until('in', () => [...sockets, colleague].every(({ frames }) => frames.length > 0));
      for (const raw of [...sockets, colleague]) hold(raw);
      const ended = await Promise.race(sockets.map(({ closed }) => closed));
      expect(ended.code).toBe(4429);
      const open = [...sockets, colleague].filter(
        ({ socket }) => socket.readyState === socket.OPEN,
      );
      expect(open).toHaveLength(4);
      await narrow.close();
    },
  );

  it('R114 one that comes byte by byte is none: a byte takes a kilobyte', async () => {
    const board = await stage.board(head);
    const socket = await bare(stage, board, ben.cookie);
    socket.setNoDelay(true);
    const ends: unknown[] = [];
    const end = Connection.prototype.ended;
    vi.spyOn(Connection.prototype, 'ended').mockImplementation(function (this: Connection) {
      ends.push(this);
      end.call(this);
    });
    socket.write(Buffer.from([0x82, 0xfe, 0xff, 0xff, 0, 0, 0, 0]));
    for (let i = 0; i < 6_000 && ends.length === 0; i++) {
      socket.write('a');
      await new Promise((resolve) => setImmediate(resolve));
    }
    await until('it is ended', () => ends.length > 0);
  });
});
