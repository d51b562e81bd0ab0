import { setTimeout as pause } from 'node:timers/promises';
import { asPlayerId } from '@stemline/testkit/plays';
import { Registry } from 'prom-client';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { BoardStore } from '../../apps/server/src/rooms/store.ts';
import type { Person } from './support/accounts.ts';
import { until } from './support/coach.ts';
import { answer, change } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let head: Person;
let ben: Person;
const loads = new Map<string, number>();
/** While set, loads wait for it. */
let held: Promise<void> | null = null;
let failing = false;

const watched = (store: BoardStore): BoardStore => ({
  ...store,
  load: async (boardId) => {
    loads.set(boardId, (loads.get(boardId) ?? 0) + 1);
    await held;
    if (failing) throw new Error('the store fails on purpose');
    return store.load(boardId);
  },
});

function holdLoads(): () => void {
  let release: () => void = () => undefined;
  held = new Promise((resolve) => {
    release = resolve;
  });
  return () => {
    held = null;
    release();
  };
}

beforeAll(async () => {
  stage = await openStage({
    wrap: watched,
    limits: {
      idleUnloadMs: 1,
      maxWaitingFrames: 32,
      maxBufferedBytes: 262_144,
      compactAfterUpdates: 20,
    },
  });
  const staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
});
afterAll(() => stage?.close());

describe('loading', () => {
  it('R20 R21 many come at once: one load, and their frames are kept in order', async () => {
    const board = await stage.board(head);
    const release = holdLoads();
    const coaches = Array.from({ length: 12 }, (_, i) => stage.coach(board, i % 2 ? head : ben));
    await until('all connected', () => coaches.every(({ provider }) => provider.wsconnected));
    expect(coaches.some(({ synced }) => synced)).toBe(false);
    release();
    await until('all synced', () => coaches.every(({ synced }) => synced));
    expect(loads.get(board)).toBe(1);
    for (const coach of coaches) coach.leave();
  });

  it('R21 who sends on and on meanwhile is not read further, and loses nothing', async () => {
    const board = await stage.board(head);
    const release = holdLoads();
    const raw = stage.raw(board, { cookie: ben.cookie });
    await raw.opened;
    raw.send(answer(Uint8Array.of(0, 0)));
    const ydoc = new Y.Doc();
    ydoc.on('update', (update: Uint8Array) => raw.send(change(update)));
    for (let i = 0; i < 3_000; i++) ydoc.getMap('meta').set('concept', `${i}`);
    await pause(300);
    release();
    await expect
      .poll(async () => (await stage.rooms.freeze(board)).content.play.concept, { timeout: 20_000 })
      .toBe('2999');
    expect(raw.socket.readyState).toBe(raw.socket.OPEN);
    raw.socket.terminate();
    await until('nothing left', () => stage.rooms.stats().rooms === 0);
  }, 60_000);

  it('R22 a failed load makes no room, writes nothing, and the next one tries again', async () => {
    const board = await stage.board(head);
    failing = true;
    const unlucky = stage.raw(board, { cookie: head.cookie });
    expect((await unlucky.closed).code).toBe(4503);
    expect(stage.rooms.stats().rooms).toBe(0);
    const returning = stage.coach(board, head);
    await until('turned away', () => returning.closes.includes(4503));
    expect(returning.closed).toBeNull();
    failing = false;
    await until('in at last', () => returning.synced);
    expect(returning.board.snapshot().board.play.players).toHaveLength(11);
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(1);
    returning.leave();
  });
});

describe('bounded', () => {
  it('R81 hundreds of boards opened, edited and left: no room is left, every edit is there', async () => {
    const names = new Map<string, string>();
    for (let i = 0; i < 200; i += 20) {
      const some = await Promise.all(Array.from({ length: 20 }, () => stage.board(head)));
      await Promise.all(
        some.map(async (board, j) => {
          const coach = stage.coach(board, head);
          await until('synced', () => coach.synced && coach.saved.length > 0);
          names.set(board, `Board ${i + j}`);
          coach.board.setName(`Board ${i + j}`);
          await until('saved', () => coach.isSaved);
          coach.leave();
        }),
      );
    }
    await until('all unloaded', () => stage.rooms.stats().rooms === 0);
    expect(stage.rooms.stats().connections).toBe(0);
    expect(names.size).toBe(200);
    const stored = await stage.prisma.board.findMany({ where: { id: { in: [...names.keys()] } } });
    for (const { id, name } of stored) expect(name).toBe(names.get(id));
  });

  it('R33 ids stay bound when the room has been unloaded and loaded again', async () => {
    const board = await stage.board(head);
    const coach = stage.coach(board, head);
    await until('synced', () => coach.synced);
    coach.board.setName('First');
    await until('saved', () => coach.isSaved && coach.saved.length > 1);
    const { clientID } = coach.ydoc;
    const copy = Y.encodeStateAsUpdate(coach.ydoc);
    coach.leave();
    await until('unloaded', () => stage.rooms.stats().rooms === 0);
    const ydoc = new Y.Doc();
    ydoc.clientID = clientID;
    Y.applyUpdate(ydoc, copy);
    ydoc.clientID = clientID;
    const thief = stage.coach(board, ben, ydoc);
    await until('synced', () => thief.synced);
    thief.board.setName('Stolen');
    expect((await until('closed', () => thief.closed)).code).toBe(4409);
    expect(thief.refused[0]?.code).toBe('foreignClient');
    thief.leave();
  });

  it('R80 a slow reader is cut off and catches up when he comes back; the others go on', async () => {
    const board = await stage.board(head);
    const writer = stage.coach(board, head);
    const slow = stage.raw(board, { cookie: ben.cookie });
    await until('both in', () => writer.synced && slow.frames.length > 0);
    slow.socket.pause();
    const closed = slow.closed;
    const before = stage.rooms.stats().connections;
    // Long texts, so that the buffers of both ends fill.
    const long = (i: number) => {
      const paragraph = new Y.XmlElement('paragraph');
      paragraph.insert(0, [new Y.XmlText('n'.repeat(15_000) + i)]);
      const notes = writer.board.notes;
      writer.ydoc.transact(() => {
        if (notes.length > 4) notes.delete(0, 1);
        notes.insert(notes.length, [paragraph]);
      });
    };
    for (let i = 0; i < 3_000 && stage.rooms.stats().connections === before; i++) {
      long(i);
      if (i % 10 === 0) await until('saved', () => writer.isSaved);
    }
    expect(stage.rooms.stats().connections).toBe(before - 1);
    slow.socket.resume();
    expect([1006, 4501]).toContain((await closed).code);
    expect(writer.closes).toEqual([]);
    const back = stage.coach(board, ben);
    await until('caught up', () => back.synced);
    expect(Y.encodeStateVector(back.ydoc)).toEqual(Y.encodeStateVector(writer.ydoc));
    back.leave();
    writer.leave();
  }, 60_000);

  it('R23 R84 a long log is folded in the background, and the board is the same', async () => {
    const board = await stage.board(head);
    const coach = stage.coach(board, head);
    await until('synced', () => coach.synced && coach.saved.length > 0);
    for (let i = 1; i <= 45; i++) {
      coach.board.movePlayer(asPlayerId('H'), [-8 - i / 10, -1.2]);
      await until('saved', () => coach.isSaved);
    }
    await expect
      .poll(() => stage.prisma.boardSnapshot.count({ where: { boardId: board } }))
      .toBeGreaterThanOrEqual(2);
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(46);
    const expected = coach.board.snapshot().board;
    coach.leave();
    await until('unloaded', () => stage.rooms.stats().rooms === 0);
    expect((await stage.rooms.freeze(board)).content).toEqual(expected);
  });

  it('R82 a heartbeat is a message, and a dead connection is found', async () => {
    const registry = new Registry();
    const limits = { heartbeatMs: 50 };
    const quick = await openStage({ prisma: stage.prisma, limits, registry });
    const board = await quick.board(head);
    const raw = quick.raw(board, { cookie: head.cookie });
    await until('in', () => raw.frames.length > 0);
    await until(
      'heartbeats',
      () =>
        raw.frames.filter((bytes) => Buffer.from(bytes).equals(Buffer.from([1, 1, 0]))).length > 2,
    );
    expect(quick.rooms.stats().connections).toBe(1);
    raw.socket.pause();
    await until('found dead', () => quick.rooms.stats().connections === 0);
    const counted = registry.getSingleMetric('stemline_room_sockets_ended_total');
    expect((await counted?.get())?.values).toMatchObject([
      { labels: { reason: 'silent' }, value: 1 },
    ]);
    await quick.close();
  });
});

describe('the end', () => {
  it('R90 closing commits what was accepted, says saved, and closes with 4500', async () => {
    const last = await openStage({ prisma: stage.prisma });
    const board = await last.board(head);
    const coach = last.coach(board, head);
    const idle = last.raw(board, { cookie: ben.cookie });
    await until('in', () => coach.synced && coach.saved.length > 0 && idle.frames.length > 0);
    coach.board.setName('Last word');
    // It has been taken once presence sent after it has come around.
    coach.provider.awareness.setLocalStateField('cursor', [9, 9]);
    const seen = idle.frames.length;
    await until('taken', () => idle.frames.length > seen);
    await last.rooms.close();
    expect((await idle.closed).code).toBe(4500);
    expect(coach.isSaved || coach.closes.includes(4500)).toBe(true);
    expect(coach.closed).toBeNull();
    expect((await stage.rooms.freeze(board)).content.play.name).toBe('Last word');
    expect((await last.raw(board, { cookie: head.cookie }).answered).status).toBe(503);
    await last.close();
  });

  it('R90 closing says so when the store does not come back in time', async () => {
    const store = { away: false };
    const last = await openStage({
      prisma: stage.prisma,
      wrap: (real) => ({
        ...real,
        append: (boards) => (store.away ? Promise.reject(new Error('away')) : real.append(boards)),
      }),
    });
    const board = await last.board(head);
    const coach = last.coach(board, head);
    await until('in', () => coach.synced && coach.saved.length > 0);
    store.away = true;
    coach.board.setName('Nowhere');
    await until('told', () =>
      coach.events.some((event) => event.kind === 'saving' && event.behind),
    );
    await expect(last.rooms.close(50)).rejects.toThrow('before everything');
    for (const { stateVector } of coach.saved)
      expect(Y.decodeStateVector(stateVector).has(coach.ydoc.clientID)).toBe(false);
    await last.close();
  });
});
