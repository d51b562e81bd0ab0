import { commentSchema, threadSchema } from '@stemline/protocol/api/comments';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { startApp, type TestApp } from '../../testing/app.ts';
import type { Person } from '../../testing/person.ts';

let stage: TestApp;
let head: Person;
let assistant: Person;
let board: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  const staff = await head.foundsStaff('Alder');
  assistant = await stage.person('Assistant');
  await head.letsJoin(assistant, staff, 'assistant');
  board = await head.drawsUp(staff, 'Sail');
});

describe('a thread', () => {
  it('is begun by an assistant, answered, resolved and reopened, and the room hears of each', async () => {
    const told = vi.spyOn(stage.rooms, 'publish');
    const path = `/api/boards/${board}/threads`;
    const thread = await assistant.gets(threadSchema, 'POST', path, {
      anchor: 'players/H',
      text: ' Too wide? ',
    });
    expect(thread).toMatchObject({
      anchor: 'players/H',
      resolvedAt: null,
      comments: [{ name: 'Assistant', text: 'Too wide?' }],
    });
    const reply = await head.gets(commentSchema, 'POST', `/api/threads/${thread.id}/comments`, {
      text: 'Yes.',
    });
    await head.does('PATCH', `/api/threads/${thread.id}`, { resolved: true });
    const [read] = await assistant.gets(z.array(threadSchema), 'GET', path);
    expect(read).toMatchObject({
      resolvedBy: 'Head',
      comments: [{ text: 'Too wide?' }, { id: reply.id, text: 'Yes.' }],
    });
    await assistant.does('PATCH', `/api/threads/${thread.id}`, { resolved: false });
    expect(await assistant.gets(z.array(threadSchema), 'GET', path)).toMatchObject([
      { resolvedAt: null, resolvedBy: null },
    ]);
    expect(told.mock.calls).toEqual(Array.from({ length: 4 }, () => [board, { kind: 'comments' }]));
    told.mockRestore();
  });

  it('is reworded by who wrote it and by nobody else; the trail keeps the words as they were', async () => {
    const path = `/api/boards/${board}/threads`;
    const thread = await assistant.gets(threadSchema, 'POST', path, {
      anchor: '',
      text: 'To wide',
    });
    const [comment] = thread.comments;
    const at = `/api/comments/${comment?.id}`;
    const told = vi.spyOn(stage.rooms, 'publish');
    const problem = await head.isRefused(403, 'PATCH', at, { text: 'Fine' }, 'notAllowed');
    expect(problem.detail).toBe('Assistant wrote this, and nobody else rewords it.');
    expect(told).not.toHaveBeenCalled();

    const reworded = await assistant.gets(commentSchema, 'PATCH', at, { text: 'Too wide' });
    expect(reworded).toMatchObject({ text: 'Too wide', name: 'Assistant' });
    expect(reworded.editedAt).not.toBeNull();
    expect(told.mock.calls).toEqual([[board, { kind: 'comments' }]]);
    told.mockRestore();
    const [trail] = await stage.prisma.auditEvent.findMany({
      where: { boardId: board },
      orderBy: { id: 'desc' },
      take: 1,
    });
    expect(trail).toMatchObject({ name: 'Assistant', detail: { was: 'To wide' } });

    await assistant.isRefused(422, 'PATCH', at, { text: ' ' });
    const same = await assistant.gets(commentSchema, 'PATCH', at, { text: 'Too wide' });
    expect(same.editedAt).toBe(reworded.editedAt);
  });

  it('loses a comment by who wrote it and by nobody else; with its last one it is resolved', async () => {
    const path = `/api/boards/${board}/threads`;
    const begun = await assistant.gets(threadSchema, 'POST', path, { anchor: '', text: 'Tpyo' });
    const first = `/api/comments/${begun.comments[0]?.id}`;
    const reply = await head.gets(commentSchema, 'POST', `/api/threads/${begun.id}/comments`, {
      text: 'What?',
    });
    const now = async () => {
      const all = await head.gets(z.array(threadSchema), 'GET', path);
      return all.find(({ id }) => id === begun.id);
    };
    const problem = await head.isRefused(403, 'DELETE', first, undefined, 'notAllowed');
    expect(problem.detail).toBe('Assistant wrote this, and nobody else deletes it.');

    const told = vi.spyOn(stage.rooms, 'publish');
    await assistant.does('DELETE', first);
    await assistant.does('DELETE', first);
    const left = await now();
    expect(left).toMatchObject({ resolvedAt: null, comments: [{ text: '' }, { text: 'What?' }] });
    expect(left?.comments.map(({ deletedAt }) => deletedAt !== null)).toEqual([true, false]);
    await assistant.isRefused(409, 'PATCH', first, { text: 'Typo' }, 'conflict');
    await head.does('DELETE', `/api/comments/${reply.id}`);
    expect(await now()).toMatchObject({ resolvedBy: 'Head', comments: [{}, { text: '' }] });
    expect(told).toHaveBeenCalledTimes(3);
    told.mockRestore();

    const trail = await stage.prisma.auditEvent.findMany({
      where: { boardId: board, what: { startsWith: 'deleted' } },
      orderBy: { id: 'asc' },
    });
    expect(trail.map(({ name, detail }) => ({ name, detail }))).toMatchObject([
      { name: 'Assistant', detail: { was: 'Tpyo' } },
      { name: 'Head', detail: { was: 'What?' } },
    ]);
  });

  it('of two who delete its last comments at once one resolves it', async () => {
    const path = `/api/boards/${board}/threads`;
    const begun = await assistant.gets(threadSchema, 'POST', path, { anchor: '', text: 'One' });
    const reply = await head.gets(commentSchema, 'POST', `/api/threads/${begun.id}/comments`, {
      text: 'Two',
    });
    await Promise.all([
      assistant.does('DELETE', `/api/comments/${begun.comments[0]?.id}`),
      head.does('DELETE', `/api/comments/${reply.id}`),
    ]);
    const all = await head.gets(z.array(threadSchema), 'GET', path);
    expect(all.find(({ id }) => id === begun.id)?.resolvedAt).not.toBeNull();
  });

  it('stays resolved by whoever resolved it first', async () => {
    const thread = await head.gets(threadSchema, 'POST', `/api/boards/${board}/threads`, {
      anchor: '',
      text: 'x',
    });
    await assistant.does('PATCH', `/api/threads/${thread.id}`, { resolved: true });
    await head.does('PATCH', `/api/threads/${thread.id}`, { resolved: true });
    const all = await head.gets(z.array(threadSchema), 'GET', `/api/boards/${board}/threads`);
    expect(all.find(({ id }) => id === thread.id)?.resolvedBy).toBe('Assistant');
  });

  it('says something', async () => {
    const problem = await head.isRefused(422, 'POST', `/api/boards/${board}/threads`, {
      anchor: '',
      text: '   ',
    });
    expect(problem.where).toEqual([{ path: 'body.text', message: 'Write something first.' }]);
  });
});
