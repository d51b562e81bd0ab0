import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { until } from './support/coach.ts';
import { answer, change } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let head: Person;
const away = { append: false, sessions: false };
/** Rows of the log that the store was asked to write. */
let asked = 0;

beforeAll(async () => {
  stage = await openStage({
    limits: { maxUnsavedBytes: 15_000 },
    wrap: (store) => ({
      ...store,
      append: (boards) => {
        asked = Math.max(asked, ...boards.map(({ updates }) => updates.length));
        return away.append ? Promise.reject(new Error('away on purpose')) : store.append(boards);
      },
    }),
    wrapSessions: (sessionOf) => (headers) =>
      away.sessions ? Promise.reject(new Error('away on purpose')) : sessionOf(headers),
  });
  head = await stage.person(await stage.staff(), 'Ada Holm', 'headCoach');
});
afterAll(() => stage?.close());
afterEach(() => {
  away.append = false;
  away.sessions = false;
});

describe('the store is away', () => {
  it('R6 what waits for it is bounded: past it clients keep their edits and come back', async () => {
    const board = await stage.board(head);
    const coach = stage.coach(board, head);
    await until('synced', () => coach.synced && coach.saved.length > 0);
    away.append = true;
    for (let i = 0; i < 300; i++) {
      coach.board.setRoute(asPlayerId('H'), {
        release: { side: 'free', hesitate: 0 },
        stem: Array.from({ length: 30 }, (_, j) => [i / 10, j] as const),
        finish: [],
        shape: 'sharp',
        name: `route ${i}`,
      });
    }
    await until('sent away', () => coach.closes.includes(4500));
    expect(coach.closed).toBeNull();
    away.append = false;
    await until('back and saved', () => coach.synced && coach.isSaved, 20_000);
    const { content } = await stage.rooms.freeze(board);
    expect(content).toEqual(coach.board.snapshot().board);
    expect(content.play.routes[asPlayerId('H')]?.name).toBe('route 299');
  });

  it('R83 a client far ahead of it is not read further, and loses nothing', async () => {
    const board = await stage.board(head);
    const raw = stage.raw(board, { cookie: head.cookie });
    await until('in', () => raw.frames.length > 0);
    away.append = true;
    asked = 0;
    const ydoc = new Y.Doc();
    raw.send(answer(Uint8Array.of(0, 0)));
    ydoc.on('update', (update: Uint8Array) => raw.send(change(update)));
    for (let i = 0; i < 2_000; i++) ydoc.getMap('meta').set('concept', `${i}`);
    await until('the log has tried', () => asked > 0);
    away.append = false;
    await expect
      .poll(async () => (await stage.rooms.freeze(board)).content.play.concept, { timeout: 20_000 })
      .toBe('1999');
    // 64 may be unsaved, and what its first frames brought before there was anything to commit.
    expect(asked).toBeLessThan(100);
    expect(raw.socket.readyState).toBe(raw.socket.OPEN);
    raw.socket.close();
  });

  it('R53 an announced change that cannot be decided closes with 4500', async () => {
    const board = await stage.board(head);
    const coach = stage.coach(board, head);
    await until('synced', () => coach.synced);
    await stage.prisma.$executeRaw`ALTER TABLE "LetIn" RENAME TO "LetInAway"`;
    await stage.rooms.accessChanged({ boardId: board });
    await until('sent away', () => coach.closes.includes(4500));
    await stage.prisma.$executeRaw`ALTER TABLE "LetInAway" RENAME TO "LetIn"`;
    await until('back', () => coach.synced);
  });

  it('R13 who comes meanwhile gets 503, and comes in when it is back', async () => {
    const board = await stage.board(head);
    away.sessions = true;
    const answer = await stage.raw(board, { cookie: head.cookie }).answered;
    expect(answer.status).toBe(503);
    expect(answer.type).toBe('application/problem+json');
    const coach = stage.coach(board, head);
    await until('tried', () => coach.provider.wsUnsuccessfulReconnects > 0);
    away.sessions = false;
    await until('in', () => coach.synced);
  });
});
