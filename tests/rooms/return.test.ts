import { newDocument } from '@stemline/board/schema';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { answer, change } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let head: Person;
let coordinator: Person;
const H = asPlayerId('H');

beforeAll(async () => {
  stage = await openStage({ limits: { earlyPatienceMs: 50, outrunPatienceMs: 400 } });
  const staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  coordinator = await stage.person(staff, 'Ben Ruiz', 'coordinator');
}, 120_000);
afterAll(() => stage?.close(), 60_000);

/** Edits once in the very moment the socket opens: before the room's request can have arrived. */
function whenOpen(coach: Coach, edit: () => void): Promise<void> {
  return new Promise((resolve) => {
    const heard = ({ status }: { status: string }): void => {
      if (status !== 'connected') return;
      coach.provider.off('status', heard);
      edit();
      resolve();
    };
    coach.provider.on('status', heard);
  });
}

/** A document with the board and, on top, an edit that its room has never seen. */
async function offline(board: string): Promise<Y.Doc> {
  const before = stage.coach(board, head);
  await until('synced', () => before.synced);
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(before.ydoc));
  before.leave();
  return ydoc;
}

describe('a coach who returns', () => {
  it('R24 edits offline, in a reloaded browser and while connecting: all of it is taken', async () => {
    const board = await stage.board(head);
    const colleague = stage.coach(board, coordinator);
    // Another browser session's edits, which no room has seen, lie under those of this one.
    const earlier = await offline(board);
    earlier.getMap('meta').set('concept', 'Before the reload');
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(earlier));
    const a = stage.coach(board, head, ydoc);
    a.board.setName('Made offline');
    let sent = 0;
    await whenOpen(a, () => {
      expect(a.synced).toBe(false);
      ydoc.on('update', () => {
        sent += 1;
      });
      expect(a.board.movePlayer(H, [-9, -1]).ok).toBe(true);
      a.board.setConcept('While connecting');
    });
    expect(sent).toBe(2);
    await until('saved', () => a.isSaved && a.synced);
    await until('seen', () => {
      const { play } = colleague.board.snapshot().board;
      return play.name === 'Made offline' && play.concept === 'While connecting';
    });
    // His answer and the two that outran it: three frames, and all of them are counted.
    await until('counted', () => a.saved.at(-1)?.updates === 3);
    expect(a.refused).toEqual([]);
    expect(a.closes).toEqual([]);
    expect(colleague.board.snapshot().board.play.players.find(({ id }) => id === 'H')?.at[0]).toBe(
      -9,
    );
    const stored = await stage.prisma.boardUpdate.findMany({ where: { boardId: board } });
    const replay = new Y.Doc();
    for (const { bytes } of stored) Y.applyUpdate(replay, bytes);
    expect(Y.encodeStateAsUpdate(replay)).toEqual(Y.encodeStateAsUpdate(a.ydoc));
  });

  it('R24 a client that never answers is judged as it is', async () => {
    const board = await stage.board(head);
    const ydoc = await offline(board);
    const raw = stage.raw(board, { cookie: head.cookie });
    await until('in', () => raw.frames.length > 0);
    const before = Y.encodeStateVector(ydoc);
    ydoc.getMap('meta').set('name', 'Stands alone');
    raw.send(change(Y.encodeStateAsUpdate(ydoc, before)));
    await expect
      .poll(async () => (await stage.rooms.freeze(board)).content.play.name)
      .toBe('Stands alone');
    raw.socket.close();
  });

  it('R24 R31 what builds on something that never comes is refused in the end', async () => {
    const board = await stage.board(head);
    const ydoc = await offline(board);
    const raw = stage.raw(board, { cookie: head.cookie });
    await until('in', () => raw.frames.length > 0);
    ydoc.getMap('meta').set('name', 'Missing link');
    const before = Y.encodeStateVector(ydoc);
    ydoc.getMap('meta').set('name', 'Built on it');
    raw.send(change(Y.encodeStateAsUpdate(ydoc, before)));
    expect((await raw.closed).code).toBe(4409);
    expect((await stage.rooms.freeze(board)).content.play.name).toBe('Harbour');
  });

  it('R24 noise among them is refused as noise', async () => {
    const board = await stage.board(head);
    const raw = stage.raw(board, { cookie: head.cookie });
    await until('in', () => raw.frames.length > 0);
    raw.send(change(Uint8Array.of(9, 9, 9, 9)));
    raw.send(answer(Uint8Array.of(0, 0)));
    expect((await raw.closed).code).toBe(4409);
  });

  it('R24 no more wait than the limit', async () => {
    const small = await openStage({ prisma: stage.prisma, limits: { maxEarlyUpdates: 3 } });
    const board = await stage.board(head);
    const raw = small.raw(board, { cookie: head.cookie });
    await until('in', () => raw.frames.length > 0);
    for (let i = 0; i < 5; i++) raw.send(change(Uint8Array.of(0, 0)));
    expect((await raw.closed).code).toBe(4429);
    await small.close();
  });
});
