import { contentHash } from '@stemline/board/canonical';
import type { BoardDocument } from '@stemline/board/document';
import { project } from '@stemline/board/project';
import { newDocument } from '@stemline/board/schema';
import { historySchema, pastBoardSchema } from '@stemline/protocol/api/history';
import { auditEventSchema } from '@stemline/protocol/api/staffs';
import { edit, makeEdit } from '@stemline/testkit/edits';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { z } from 'zod';
import { startApp, type TestApp } from '../testing/app.ts';
import { editBoard } from '../testing/edit.ts';
import type { Person } from '../testing/person.ts';
import { boardAt } from './past.ts';
import { thinBoard } from './thin.ts';
import { startThinning } from './thinning.ts';

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;

let stage: TestApp;
let head: Person;
let staff: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
});

/** A board made at the first of these times, then edited at each of the others. */
async function boardWith(
  times: readonly Date[],
  change: (board: BoardDocument, n: number) => void,
): Promise<string> {
  const board = await head.drawsUp(staff, 'Sail');
  const stamp = async (at: Date | undefined): Promise<void> => {
    const last = await stage.prisma.boardUpdate.findFirstOrThrow({
      where: { boardId: board },
      orderBy: { id: 'desc' },
    });
    const maker = await stage.prisma.board.findUniqueOrThrow({ where: { id: board } });
    await stage.prisma.boardUpdate.update({
      where: { boardId_id: { boardId: board, id: last.id } },
      data: { memberId: maker.createdBy, ...(at ? { at } : {}) },
    });
  };
  await stamp(times[0]);
  for (const [n, at] of times.slice(1).entries()) {
    await editBoard(stage, board, (document) => change(document, n));
    await stamp(at);
  }
  return board;
}

const nameAt = async (board: string, time: Date): Promise<string> => {
  const past = await head.gets(
    pastBoardSchema,
    'GET',
    `/api/boards/${board}/at?time=${time.toISOString()}`,
  );
  return past.content.play.name;
};

const after = (start: Date, ...ms: number[]): Date[] =>
  ms.map((each) => new Date(start.getTime() + each));

describe('the history of a board', () => {
  const tuesday = new Date('2026-09-15T21:00:00.000Z');

  it('is told in sittings, newest first, with who edited', async () => {
    const board = await boardWith(
      after(tuesday, 0, 10 * minute, 50 * minute, 3 * hour, 3 * hour + minute),
      (document, n) => document.setName(`Sail ${n}`),
    );
    const sittings = await head.gets(historySchema, 'GET', `/api/boards/${board}/history`);
    expect(sittings).toEqual([
      { from: '2026-09-16T00:00:00.000Z', to: '2026-09-16T00:01:00.000Z', names: ['Head'] },
      { from: '2026-09-15T21:00:00.000Z', to: '2026-09-15T21:50:00.000Z', names: ['Head'] },
    ]);
  });

  it('shows the board as it was on Tuesday at 21:10', async () => {
    const board = await boardWith(
      after(tuesday, 0, 5 * minute, 10 * minute, 15 * minute),
      (document, n) => document.setName(`Sail ${n}`),
    );
    expect(await nameAt(board, new Date(tuesday.getTime() + 10 * minute))).toBe('Sail 1');
    expect(await nameAt(board, new Date(tuesday.getTime() + 15 * minute - 1))).toBe('Sail 1');
    expect(await nameAt(board, tuesday)).toBe('Sail');
    expect(await nameAt(board, new Date())).toBe('Sail 2');
    const before = new Date(tuesday.getTime() - 1).toISOString();
    await head.isRefused(404, 'GET', `/api/boards/${board}/at?time=${before}`);
    await head.isRefused(422, 'GET', `/api/boards/${board}/at?time=tuesday`);
  });

  it('tells in words what a sitting changed, and who sat', async () => {
    const board = await boardWith(
      after(tuesday, 0, 5 * minute, 3 * hour, 3 * hour + minute, 3 * hour + 2 * minute),
      (document, n) =>
        n === 0
          ? document.setName('Sail short')
          : n === 1
            ? document.setConcept('Flood')
            : document.setName(n === 2 ? 'Sail for nothing' : 'Sail short'),
    );
    const sittingAt = async (ms: number) => {
      const time = new Date(tuesday.getTime() + ms).toISOString();
      const path = `/api/boards/${board}/at?time=${time}`;
      return (await head.gets(pastBoardSchema, 'GET', path)).sitting;
    };
    // The first one, since the board was made.
    expect(await sittingAt(hour)).toEqual({
      names: ['Head'],
      did: [expect.stringContaining('Sail short')],
    });
    // What was done and taken back within a sitting is not told at its end, and is in its middle.
    expect((await sittingAt(4 * hour))?.did).toEqual([expect.stringContaining('Flood')]);
    expect((await sittingAt(3 * hour + minute))?.did).toEqual(
      expect.arrayContaining([
        expect.stringContaining('Flood'),
        expect.stringContaining('Sail for nothing'),
      ]),
    );
    expect(await sittingAt(0)).toEqual({ names: ['Head'], did: [] });
  });

  it('restores it as a new edit: what was done since stays in the history', async () => {
    const board = await boardWith(after(tuesday, 0, hour, 2 * hour), (document, n) =>
      document.setName(`Sail ${n}`),
    );
    const time = new Date(tuesday.getTime() + hour).toISOString();
    const rows = await stage.prisma.boardUpdate.findMany({ where: { boardId: board } });
    const past = await head.gets(pastBoardSchema, 'GET', `/api/boards/${board}/at?time=${time}`);
    expect(past.changes).toHaveLength(1);
    expect(past.changes[0]).toContain('Sail 0');
    await head.gets(z.object({ time: z.string() }), 'POST', `/api/boards/${board}/restore`, {
      time,
    });
    const { content } = await stage.rooms.freeze(board);
    expect(contentHash(content)).toBe(contentHash(past.content));
    const now = await stage.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
    });
    expect(now.slice(0, -1)).toEqual(rows);
    const { createdBy, name } = await stage.prisma.board.findUniqueOrThrow({
      where: { id: board },
    });
    expect([now.at(-1)?.memberId, name]).toEqual([createdBy, 'Sail 0']);
    const [author] = await stage.prisma.elementAuthor.findMany({ where: { boardId: board } });
    expect(author).toMatchObject({ element: 'meta/name', memberId: createdBy, name: 'Head' });
    const [deed] = await head.gets(z.array(auditEventSchema), 'GET', `/api/staffs/${staff}/audit`);
    expect(deed?.what).toBe('restored “Sail 1” to how it was');
    await head.isRefused(
      409,
      'POST',
      `/api/boards/${board}/restore`,
      { time: now.at(-1)?.at.toISOString() },
      'nothingChanged',
    );
    expect(await nameAt(board, new Date(tuesday.getTime() + 2 * hour))).toBe('Sail 1');
  });

  it('does not restore what is archived', async () => {
    const board = await boardWith(after(tuesday, 0, hour), (document) => document.setName('x'));
    await head.does('PATCH', `/api/boards/${board}`, { archived: true });
    const wish = { time: tuesday.toISOString() };
    await head.isRefused(409, 'POST', `/api/boards/${board}/restore`, wish, 'archived');
  });
});

describe('the log, thinned by age', () => {
  const now = new Date('2026-12-01T00:00:00.000Z');
  const ago = (days: number, ms = 0): Date => new Date(now.getTime() - days * day + ms);
  const stateAt = async (board: string, time: Date) => {
    const past = await boardAt(stage.prisma, board, time);
    return past && project(past.ydoc).board;
  };
  const fold = async (board: string): Promise<void> => {
    const rows = await stage.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
    });
    const ydoc = newDocument();
    for (const { bytes } of rows) Y.applyUpdate(ydoc, bytes);
    const upTo = rows.at(-1)?.id ?? 0n;
    const bytes = Uint8Array.from(Y.encodeStateAsUpdate(ydoc));
    await stage.prisma.boardSnapshot.create({ data: { boardId: board, upTo, bytes, at: now } });
  };

  it('keeps every end of a sitting, then of a day, and every edit of the last ten days', async () => {
    const times = [
      ...[ago(320), ago(300), ago(250)],
      ...[ago(100), ago(100, 2 * hour), ago(100, 4 * hour), ago(90)],
      ...[ago(20), ago(20, minute), ago(20, 2 * minute), ago(20, 3 * hour), ago(20, 3 * hour + 1)],
      ...[ago(5), ago(5, 1), ago(5, 2)],
    ];
    const board = await boardWith(times, (document, n) => document.setName(`Sail ${n}`));
    await fold(board);
    const ends = [
      ago(250),
      ago(100, 4 * hour),
      ago(90),
      ago(20, 2 * minute),
      ago(20, 3 * hour + 1),
    ];
    const kept = [...ends, ago(5), ago(5, 1), ago(5, 2), now];
    const before = await Promise.all(kept.map((time) => stateAt(board, time)));
    // The two sittings of twenty days ago keep the first of their rows; one member was there.
    expect(await thinBoard(stage.prisma, board, now)).toBe(5);
    expect(await Promise.all(kept.map((time) => stateAt(board, time)))).toEqual(before);
    const rows = await stage.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
    });
    expect(rows.map(({ at }) => at)).toEqual([
      ago(250),
      ago(100, 4 * hour),
      ago(90),
      ...[ago(20), ago(20, 2 * minute), ago(20, 3 * hour), ago(20, 3 * hour + 1)],
      ...[ago(5), ago(5, 1), ago(5, 2)],
    ]);
    const sittings = await head.gets(historySchema, 'GET', `/api/boards/${board}/history`);
    expect(sittings.map(({ from, to }) => [from, to])).toEqual(
      [
        [ago(5), ago(5, 2)],
        [ago(20, 3 * hour), ago(20, 3 * hour + 1)],
        [ago(20), ago(20, 2 * minute)],
        [ago(90), ago(90)],
        [ago(100, 4 * hour), ago(100, 4 * hour)],
        [ago(250), ago(250)],
      ].map((ends) => ends.map((at) => at?.toISOString())),
    );
    expect(await thinBoard(stage.prisma, board, now)).toBe(0);
  });

  it('never changes how the board stands, or how a kept time was, whatever was done', async () => {
    const edits = fc.sample(edit(), { numRuns: 40, seed: 11 });
    const times = edits.map((_, n) => ago(60 - n, (n % 3) * hour));
    const board = await boardWith([ago(61), ...times], (document, n) => {
      const next = edits[n];
      // Every row of the log is to say something.
      if (next) makeEdit(document, next);
      document.setConcept(`c${n}`);
    });
    await fold(board);
    const kept = [...new Set(times)];
    const before = await Promise.all(kept.map((time) => stateAt(board, time)));
    await thinBoard(stage.prisma, board, now);
    expect(await Promise.all(kept.map((time) => stateAt(board, time)))).toEqual(before);
  });

  it('is thinned by a running server, which can be stopped at any time', async () => {
    const old = (minutes: number): Date => new Date(Date.now() - 20 * day + minutes * minute);
    const board = await boardWith([old(0), old(1), old(2), old(3)], (document, n) =>
      document.setName(`Sail ${n}`),
    );
    await fold(board);
    const rows = () => stage.prisma.boardUpdate.count({ where: { boardId: board } });
    const stop = startThinning(stage.prisma, stage.deps.log);
    await expect.poll(rows).toBe(2);
    await stop();
    await startThinning(stage.prisma, stage.deps.log)();
    expect(await rows()).toBe(2);
  });

  it('leaves alone what a room may still load from', async () => {
    const board = await boardWith([ago(50), ago(49), ago(49, 1)], (document, n) =>
      document.setName(`Sail ${n}`),
    );
    expect(await thinBoard(stage.prisma, board, now)).toBe(0);
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(3);
  });
});
