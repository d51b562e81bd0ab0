import { builtInLooks } from '@stemline/football/shelf';
import {
  maxBoardsOfStaff,
  maxCommentsOfThread,
  maxLooksOfStaff,
  maxOpenInvitations,
  maxStaffsOfHeadCoach,
  maxThreadsOfBoard,
} from '@stemline/protocol/amounts';
import { threadSchema } from '@stemline/protocol/api/comments';
import { beforeAll, describe, expect, it } from 'vitest';
import { toJson } from '../database.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';

let stage: TestApp;
let head: Person;
let staff: string;
let board: string;
const [look] = builtInLooks;
const many = <T>(count: number, make: (n: number) => T): T[] =>
  Array.from({ length: count }, (_, n) => make(n));

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
  board = await head.drawsUp(staff, 'Sail');
});

/** Of two at once the first is the last one that there is room for. */
async function hasRoomForOne(ask: (n: number) => Promise<{ status: number; text: string }>) {
  const answers = await Promise.all([ask(1), ask(2)]);
  expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
  const refused = answers.find(({ status }) => status === 409);
  expect(JSON.parse(refused?.text ?? '')).toMatchObject({ type: 'urn:stemline:problem:full' });
  expect((await ask(3)).status).toBe(409);
}

describe('there is an end to', () => {
  it('plays in a book', async () => {
    const data = many(maxBoardsOfStaff - 2, (n) => ({
      staffId: staff,
      name: `${n}`,
      createdBy: 'Head',
    }));
    await stage.prisma.board.createMany({ data });
    await hasRoomForOne((n) =>
      head.ask('POST', `/api/staffs/${staff}/boards`, {
        name: `Play ${n}`,
        formation: 'doubles',
        code: 'highSchool',
      }),
    );
    await head.isRefused(409, 'POST', `/api/boards/${board}/duplicate`, { name: 'Two' }, 'full');
  });

  it('looks on a shelf', async () => {
    const there = await stage.prisma.look.count({ where: { staffId: staff } });
    const data = many(maxLooksOfStaff - 1 - there, (n) => ({
      staffId: staff,
      name: `Look ${n}`,
      recipe: toJson({ ...look, name: `Look ${n}` }),
      order: there + n,
      createdBy: 'Head',
    }));
    await stage.prisma.look.createMany({ data });
    await hasRoomForOne((n) =>
      head.ask('POST', `/api/staffs/${staff}/looks`, { recipe: { ...look, name: `Our ${n}` } }),
    );
  });

  it('threads on a play, and comments in a thread', async () => {
    const path = `/api/boards/${board}/threads`;
    const text = { anchor: '', text: 'Too wide?' };
    const { id } = await head.gets(threadSchema, 'POST', path, text);
    const said = { memberId: 'Head', name: 'Head', text: 'Yes.' };
    await stage.prisma.comment.createMany({
      data: many(maxCommentsOfThread - 2, () => ({ threadId: id, ...said })),
    });
    await hasRoomForOne(() => head.ask('POST', `/api/threads/${id}/comments`, { text: 'No.' }));
    await stage.prisma.thread.createMany({
      data: many(maxThreadsOfBoard - 2, () => ({ boardId: board })),
    });
    await hasRoomForOne(() => head.ask('POST', path, text));
  });

  it('open invitations; who withdraws one may make another', async () => {
    const data = many(maxOpenInvitations - 1, (n) => ({
      staffId: staff,
      role: 'assistant' as const,
      group: 'all' as const,
      tokenHash: `${n}`,
      invitedBy: 'Head',
      expiresAt: new Date(Date.now() + 3_600_000),
    }));
    await stage.prisma.invitation.createMany({ data });
    const path = `/api/staffs/${staff}/invitations`;
    const offer = { role: 'assistant', group: 'all' };
    await hasRoomForOne(() => head.ask('POST', path, offer));
    const open = await stage.prisma.invitation.findFirstOrThrow({ where: { staffId: staff } });
    await head.does('DELETE', `${path}/${open.id}`);
    expect((await head.ask('POST', path, offer)).status).toBe(201);
  });

  it('staffs of one head coach, those from an archive too', async () => {
    const archive = await head.ask('GET', `/api/staffs/${await head.foundsStaff('Small')}/export`);
    expect(archive.status).toBe(200);
    const user = await stage.prisma.user.findFirstOrThrow({ where: { email: head.email } });
    for (let n = 2; n < maxStaffsOfHeadCoach - 1; n++)
      await stage.prisma.staff.create({
        data: {
          name: `Staff ${n}`,
          members: { create: { userId: user.id, role: 'headCoach', group: 'all' } },
        },
      });
    await hasRoomForOne((n) => head.ask('POST', '/api/staffs', { name: `One more ${n}` }));
    const answer = await head.ask('POST', '/api/staffs/import', archive.text);
    expect([answer.status, answer.text]).toEqual([409, expect.stringContaining('full')]);
  });
});
