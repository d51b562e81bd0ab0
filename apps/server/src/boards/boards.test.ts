import { boardPlaySchema } from '@stemline/board/board-play';
import { boardLineSchema, boardSchema, letInMemberSchema } from '@stemline/protocol/api/boards';
import { versionSchema } from '@stemline/protocol/api/signoff';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { toJson } from '../database.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import { editBoard } from '../testing/edit.ts';
import type { Person } from '../testing/person.ts';

let stage: TestApp;
let head: Person;
let assistant: Person;
let assistantId: string;
let player: Person;
let staff: string;
const book = z.array(boardLineSchema);

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
  assistant = await stage.person('Assistant');
  assistantId = await head.letsJoin(assistant, staff, 'assistant');
  player = await stage.person('Player');
  await head.letsJoin(player, staff, 'player', 'receivers');
});

const names = async (by: Person, query = ''): Promise<string[]> =>
  (await by.gets(book, 'GET', `/api/staffs/${staff}/boards${query}`)).map(({ name }) => name);

async function signOff(board: string): Promise<void> {
  const change = await head.gets(
    z.object({ id: z.string() }),
    'POST',
    `/api/boards/${board}/changes`,
    { message: '' },
  );
  for (const { findingId } of await stage.prisma.findingRecord.findMany({
    where: { boardId: board, severity: 'stop' },
  })) {
    await head.does('POST', `/api/boards/${board}/waivers`, { findingId, reason: 'for this test' });
  }
  await head.gets(z.unknown(), 'POST', `/api/changes/${change.id}/decision`, {
    decision: 'signOff',
  });
}

describe('a board', () => {
  it('begins with a formation of eleven, in the book', async () => {
    const id = await head.drawsUp(staff, 'Sail', 'Flood');
    const { content } = await stage.rooms.freeze(id);
    expect(content.play.players).toHaveLength(11);
    expect(content.play).toMatchObject({
      name: 'Sail',
      concept: 'Flood',
      situation: { code: 'highSchool', spot: 'middle' },
    });
    const line = (await head.gets(book, 'GET', `/api/staffs/${staff}/boards`)).find(
      (one) => one.id === id,
    );
    expect(line).toMatchObject({
      name: 'Sail',
      concept: 'Flood',
      formation: 'Doubles, 2x2',
      signedVersion: null,
      sentUp: false,
      openComments: 0,
    });
    const page = await assistant.gets(boardSchema, 'GET', `/api/boards/${id}`);
    expect(page).toMatchObject({
      staffName: 'Alder',
      name: 'Sail',
      mayEdit: false,
      member: { name: 'Assistant', role: 'assistant' },
    });
  });

  it('needs a formation that there is', async () => {
    const wish = { name: 'X', formation: 'nonesuch', code: 'college' };
    const problem = await head.isRefused(
      422,
      'POST',
      `/api/staffs/${staff}/boards`,
      wish,
      'invalid',
    );
    expect(problem.where?.[0]?.path).toBe('body.formation');
  });

  it('is found by name, concept and formation, whatever signs the search holds', async () => {
    await head.drawsUp(staff, '100% Go', 'Verticals');
    await head.drawsUp(staff, 'Under_score', 'Dig');
    expect(await names(head, '?search=verti')).toEqual(['100% Go']);
    expect(await names(head, '?search=GO')).toEqual(['100% Go']);
    expect(await names(head, '?search=%25')).toEqual(['100% Go']);
    expect(await names(head, '?search=_')).toEqual(['Under_score']);
    expect(await names(head, '?search=2x2')).toContain('Under_score');
    expect(await names(head, '?search=3x1')).toEqual([]);
    expect(await names(head, '?search=%5C')).toEqual([]);
  });

  it('is duplicated with what it says now, and then has a life of its own', async () => {
    const original = await head.drawsUp(staff, 'Anvil');
    await editBoard(stage, original, (board) => board.setConcept('Hammer'));
    const made = await head.gets(
      z.object({ id: z.string() }),
      'POST',
      `/api/boards/${original}/duplicate`,
      { name: 'Anvil left' },
    );
    const copy = await stage.rooms.freeze(made.id);
    const { content } = await stage.rooms.freeze(original);
    expect(copy.content).toEqual({ ...content, play: { ...content.play, name: 'Anvil left' } });
    await editBoard(stage, made.id, (board) => board.setConcept('Else'));
    expect((await stage.rooms.freeze(original)).content.play.concept).toBe('Hammer');
  });

  it('leaves the book for the archive and comes back; its room is told, once', async () => {
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    const id = await head.drawsUp(staff, 'Old one');
    await head.does('PATCH', `/api/boards/${id}`, { archived: true });
    await head.does('PATCH', `/api/boards/${id}`, { archived: true });
    expect(told.mock.calls).toEqual([[{ boardId: id }]]);
    expect(await names(head)).not.toContain('Old one');
    expect(await names(head, '?archived=yes')).toEqual(['Old one']);
    expect(await head.gets(boardSchema, 'GET', `/api/boards/${id}`)).toMatchObject({
      mayEdit: false,
    });
    await head.isRefused(409, 'POST', `/api/boards/${id}/changes`, { message: '' }, 'archived');
    await head.does('PATCH', `/api/boards/${id}`, { archived: false });
    expect(await names(head)).toContain('Old one');
    told.mockRestore();
  });

  it('is opened to an assistant where he is let in, and closed again', async () => {
    const id = await head.drawsUp(staff, 'Guarded');
    const list = z.array(letInMemberSchema);
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    expect(await head.gets(list, 'GET', `/api/boards/${id}/let-in`)).toEqual([
      { memberId: assistantId, name: 'Assistant', letIn: false },
    ]);
    for (const letIn of [true, true, false]) {
      await head.does('PUT', `/api/boards/${id}/let-in`, { memberId: assistantId, letIn });
      expect(told).toHaveBeenLastCalledWith({ boardId: id, memberId: assistantId });
      expect(await head.gets(list, 'GET', `/api/boards/${id}/let-in`)).toMatchObject([{ letIn }]);
      expect(await assistant.gets(boardSchema, 'GET', `/api/boards/${id}`)).toMatchObject({
        mayEdit: letIn,
      });
    }
    const other = await stage.person('Outsider');
    const otherStaff = await other.foundsStaff('Birch');
    const outsider = await stage.prisma.member.findFirstOrThrow({ where: { staffId: otherStaff } });
    await head.isRefused(404, 'PUT', `/api/boards/${id}/let-in`, {
      memberId: outsider.id,
      letIn: true,
    });
    told.mockRestore();
  });
});

describe('a player', () => {
  it('sees a play once it is signed off, as it was signed off, and nothing of the working board', async () => {
    const id = await head.drawsUp(staff, 'Lantern', 'Option');
    expect(await names(player)).toEqual([]);
    await player.isRefused(404, 'GET', `/api/boards/${id}`);
    await player.isRefused(404, 'GET', `/api/boards/${id}/signed`);
    await signOff(id);
    await editBoard(stage, id, (board) => {
      board.setName('Secret new name');
      board.setConcept('Secret idea');
    });
    expect(await names(head)).toContain('Secret new name');
    const [line] = await player.gets(book, 'GET', `/api/staffs/${staff}/boards`);
    expect(line).toMatchObject({
      name: 'Lantern',
      concept: 'Option',
      signedVersion: 1,
      openFindings: null,
      openComments: null,
      sentUp: false,
    });
    expect(await names(player, '?search=secret')).toEqual([]);
    expect(await names(player, '?search=lant')).toEqual(['Lantern']);
    const page = await player.gets(boardSchema, 'GET', `/api/boards/${id}`);
    expect(page).toMatchObject({ name: 'Lantern', mayEdit: false });
    const signed = await player.ask('GET', `/api/boards/${id}/signed`);
    expect(signed.status).toBe(200);
    expect(signed.text).not.toContain('Secret');
    await player.isRefused(403, 'GET', `/api/boards/${id}/threads`);
  });

  it('has his book without the notes of its plays being read, and others go on between two plays', async () => {
    const own = await head.foundsStaff('Full book');
    const rookie = await stage.person('Rookie');
    await head.letsJoin(rookie, own, 'player');
    for (const name of ['First', 'Second', 'Third']) await signOff(await head.drawsUp(own, name));
    for (const { id, play } of await stage.prisma.version.findMany({
      where: { board: { staffId: own } },
    })) {
      const { play: drawn } = boardPlaySchema.parse(play);
      // No notes that a schema takes, so that whoever reads them fails.
      const unread = { play: toJson(drawn), notes: 'unread' };
      await stage.prisma.version.update({ where: { id }, data: { play: unread } });
    }
    let turn = 0;
    const count = () => {
      turn += 1;
      next = setImmediate(count);
    };
    let next = setImmediate(count);
    const playSchema = boardPlaySchema.shape.play;
    const read = playSchema.parse.bind(playSchema);
    const turns: number[] = [];
    const reading = vi.spyOn(playSchema, 'parse').mockImplementation((play) => {
      turns.push(turn);
      return read(play);
    });
    const lines = await rookie.ask('GET', `/api/staffs/${own}/boards`);
    clearImmediate(next);
    reading.mockRestore();
    expect(lines.status, lines.text).toBe(200);
    expect(book.parse(JSON.parse(lines.text)).map(({ name }) => name)).toEqual([
      'First',
      'Second',
      'Third',
    ]);
    expect(turns).toHaveLength(3);
    expect(new Set(turns).size).toBe(3);
  });

  it('loses a play that is archived, by whatever address, until it is back in the book', async () => {
    const id = await head.drawsUp(staff, 'Taken out');
    await signOff(id);
    const { id: version } = await head.gets(versionSchema, 'GET', `/api/boards/${id}/signed`);
    const doors = [
      `/api/boards/${id}/signed`,
      `/api/boards/${id}/versions`,
      `/api/versions/${version}`,
    ];
    const archives = (archived: boolean) => head.does('PATCH', `/api/boards/${id}`, { archived });
    await archives(true);
    for (const door of doors) {
      await player.isRefused(404, 'GET', door, undefined, 'notFound');
      await assistant.gets(z.unknown(), 'GET', door);
    }
    expect(await names(player, '?archived=yes')).toEqual([]);
    expect(await names(assistant, '?archived=yes')).toContain('Taken out');
    // The page at the old address says what became of it.
    const page = await player.gets(boardSchema, 'GET', `/api/boards/${id}`);
    expect(page).toMatchObject({ name: 'Taken out', archivedAt: expect.any(String) });
    await archives(false);
    for (const door of doors) await player.gets(z.unknown(), 'GET', door);
  });
});
