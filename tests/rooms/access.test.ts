import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let staff: string;
let head: Person;
let board: string;
/** How far the rooms' clock is ahead, milliseconds. */
let ahead = 0;
/** Stays through every change. */
let witness: Coach;

beforeAll(async () => {
  stage = await openStage({
    limits: { heartbeatMs: 200 },
    now: () => new Date(Date.now() + ahead),
  });
  staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
});
afterAll(() => stage?.close());
beforeEach(async () => {
  board = await stage.board(head);
  witness = stage.coach(board, head);
  await until('witness synced', () => witness.synced);
});

async function inside(who: Person): Promise<Coach> {
  const coach = stage.coach(board, who);
  await until('synced', () => coach.synced && coach.hellos.length > 0);
  return coach;
}

describe('access that changes during a session', () => {
  it('R50 who is removed from the staff is closed with 4406 and stays out', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    await stage.prisma.member.update({
      where: { id: ben.memberId },
      data: { removedAt: new Date() },
    });
    await stage.rooms.accessChanged({ memberId: ben.memberId });
    expect((await until('closed', () => coach.closed, 5_000)).code).toBe(4406);
    const again = stage.raw(board, { cookie: ben.cookie });
    expect((await again.closed).code).toBe(4404);
    expect(witness.closes).toEqual([]);
  });

  it('R50 who becomes a player is closed with 4406', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    await stage.prisma.member.update({ where: { id: ben.memberId }, data: { role: 'player' } });
    await stage.rooms.accessChanged({ memberId: ben.memberId });
    expect((await until('closed', () => coach.closed, 5_000)).code).toBe(4406);
    expect((await stage.raw(board, { cookie: ben.cookie }).closed).code).toBe(4403);
  });

  it('R50 who may no longer edit is told, and what he writes then is refused', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    expect(coach.mayEdit).toBe(true);
    await stage.prisma.member.update({ where: { id: ben.memberId }, data: { role: 'assistant' } });
    await stage.rooms.accessChanged({ memberId: ben.memberId });
    await until('told', () => coach.mayEdit === false, 5_000);
    expect(coach.hellos.at(-1)?.member.role).toBe('assistant');
    expect(coach.closes).toEqual([]);
    coach.board.setName('Too late');
    expect((await until('closed', () => coach.closed)).code).toBe(4409);
    expect(witness.board.snapshot().board.play.name).toBe('Harbour');
  });

  it('R51 nothing sent while access is in question is taken under the old right', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    await stage.prisma.member.update({ where: { id: ben.memberId }, data: { role: 'assistant' } });
    const decided = stage.rooms.accessChanged({ memberId: ben.memberId });
    coach.board.setName('Slipped through');
    await decided;
    expect((await until('closed', () => coach.closed)).code).toBe(4409);
    const { content } = await stage.rooms.freeze(board);
    expect(content.play.name).toBe('Harbour');
  });

  it('R50 an assistant is let in to one board while he watches, and out again', async () => {
    const cem = await stage.person(staff, 'Cem Aydin', 'assistant');
    const coach = await inside(cem);
    expect(coach.mayEdit).toBe(false);
    const here = { boardId: board, memberId: cem.memberId };
    await stage.prisma.letIn.create({ data: { ...here, by: head.memberId } });
    await stage.rooms.accessChanged(here);
    await until('let in', () => coach.mayEdit === true, 5_000);
    coach.board.setName('By the assistant');
    await until('seen', () => witness.board.snapshot().board.play.name === 'By the assistant');
    await stage.prisma.letIn.deleteMany({ where: here });
    await stage.rooms.accessChanged(here);
    await until('out', () => coach.mayEdit === false, 5_000);
  });

  it('R50 who signs out everywhere is closed with 4401 in every room', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    const other = stage.coach(await stage.board(head), ben);
    await until('synced', () => other.synced);
    await stage.prisma.session.deleteMany({ where: { userId: ben.userId } });
    await stage.rooms.accessChanged({ userId: ben.userId });
    for (const each of [coach, other])
      expect((await until('closed', () => each.closed, 5_000)).code).toBe(4401);
    expect(witness.closes).toEqual([]);
  });

  it('R50 an archived board becomes read-only for everybody on it', async () => {
    await stage.prisma.board.update({ where: { id: board }, data: { archivedAt: new Date() } });
    await stage.rooms.accessChanged({ boardId: board });
    await until('told', () => witness.mayEdit === false, 5_000);
  });

  it('R50 a board that is deleted closes its room with 4404', async () => {
    await stage.prisma.board.delete({ where: { id: board } });
    await stage.rooms.accessChanged({ boardId: board });
    expect((await until('closed', () => witness.closed, 5_000)).code).toBe(4404);
  });

  it('R7 a board that is deleted unannounced closes its room at the next edit', async () => {
    await stage.prisma.board.delete({ where: { id: board } });
    witness.board.setName('Into nothing');
    expect((await until('closed', () => witness.closed)).code).toBe(4404);
  });

  it('R52 a session that runs out ends the connection by itself', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    const day = 24 * 60 * 60 * 1000;
    for (const [{ userId }, ends] of [
      [ben, 0],
      [head, 60 * day],
    ] as const)
      await stage.prisma.session.updateMany({
        where: { userId },
        data: { expiresAt: new Date(Date.now() + ends) },
      });
    expect(coach.closes).toEqual([]);
    ahead = 31 * day;
    expect((await until('closed', () => coach.closed)).code).toBe(4401);
    ahead = 0;
    expect(witness.closes).toEqual([]);
  });

  it('R52 what nobody announced comes to light', async () => {
    const ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const coach = await inside(ben);
    await stage.prisma.member.update({ where: { id: ben.memberId }, data: { role: 'assistant' } });
    ahead = 61_000;
    await until('told', () => coach.mayEdit === false);
    ahead = 0;
    expect(coach.closes).toEqual([]);
  });

  it('R54 an access change must say whose or where', async () => {
    await expect(stage.rooms.accessChanged({})).rejects.toThrow(TypeError);
  });

  it('an event reaches everybody on its board and nobody else', async () => {
    const other = stage.coach(await stage.board(head), head);
    await until('synced', () => other.synced);
    stage.rooms.publish(board, { kind: 'comments' });
    await until('told', () => witness.events.some(({ kind }) => kind === 'comments'));
    expect(other.events).toEqual([]);
  });
});
