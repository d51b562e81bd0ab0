import { boardLineSchema } from '@stemline/protocol/api/boards';
import { threadSchema } from '@stemline/protocol/api/comments';
import {
  changeSchema,
  sentPlaySchema,
  versionLineSchema,
  versionSchema,
} from '@stemline/protocol/api/signoff';
import { auditEventSchema } from '@stemline/protocol/api/staffs';
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { lockBoard } from '../database.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import { editBoard } from '../testing/edit.ts';
import type { Person } from '../testing/person.ts';

let stage: TestApp;
let head: Person;
let second: Person;
let coordinator: Person;
let coach: Person;
let staff: string;
let board: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
  second = await stage.person('Second head');
  coordinator = await stage.person('Coordinator');
  coach = await stage.person('Coach');
  await head.letsJoin(second, staff, 'headCoach');
  await head.letsJoin(coordinator, staff, 'coordinator');
  await head.letsJoin(coach, staff, 'positionCoach', 'receivers');
});

beforeEach(async () => {
  board = await head.drawsUp(staff, 'Sail');
});

const sendUp = (by: Person, message = '') =>
  by.gets(changeSchema, 'POST', `/api/boards/${board}/changes`, { message });
const signOff = (by: Person, change: string) =>
  by.ask('POST', `/api/changes/${change}/decision`, { decision: 'signOff' });
const versions = () =>
  head.gets(z.array(versionLineSchema), 'GET', `/api/boards/${board}/versions`);
const waiting = () =>
  head.gets(z.array(changeSchema), 'GET', `/api/staffs/${staff}/changes?state=sentUp`);

/** Takes a man off the line, which every rule book forbids: a finding of the highest severity. */
const breakFormation = () =>
  editBoard(stage, board, (document) => {
    const lineman = document.snapshot().board.play.players.find(({ position }) => position === 'T');
    if (!lineman) throw new Error('a formation has tackles');
    document.movePlayer(lineman.id, [lineman.at[0], -4]);
  });

describe('sending up', () => {
  it('freezes the board as it stands, says what changes, and tells the room', async () => {
    const told = vi.spyOn(stage.rooms, 'publish');
    await editBoard(stage, board, (document) => document.setConcept('Flood'));
    const change = await sendUp(coach, 'Please look.');
    expect(change).toMatchObject({
      state: 'sentUp',
      boardName: 'Sail',
      message: 'Please look.',
      sentBy: 'Coach',
      boardMovedOn: false,
      version: null,
    });
    expect(change.words.length).toBeGreaterThan(0);
    expect(told).toHaveBeenCalledWith(board, { kind: 'changes' });
    expect((await waiting()).map(({ id }) => id)).toContain(change.id);
    const lines = await head.gets(z.array(boardLineSchema), 'GET', `/api/staffs/${staff}/boards`);
    expect(lines.find(({ id }) => id === board)?.sentUp).toBe(true);
    told.mockRestore();
  });

  it('holds up no edit of the board, however long it takes', async () => {
    await stage.prisma.$transaction(async (transaction) => {
      await lockBoard(transaction, board);
      await editBoard(stage, board, (document) => document.setName('Sail, wide'));
    });
    const { content } = await stage.rooms.freeze(board);
    expect(content.play.name).toBe('Sail, wide');
  });

  it('waits alone: a board has one change up at a time, also when two send at once', async () => {
    const answers = await Promise.all(
      [coach, coordinator].map((by) =>
        by.ask('POST', `/api/boards/${board}/changes`, { message: '' }),
      ),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    await head.isRefused(
      409,
      'POST',
      `/api/boards/${board}/changes`,
      { message: '' },
      'alreadySentUp',
    );
  });

  it('notices when the working board says something else by now, and when it says the same again', async () => {
    const change = await sendUp(coach);
    const movedOn = async () => (await waiting()).find(({ id }) => id === change.id)?.boardMovedOn;
    await editBoard(stage, board, (document) => document.setConcept('Flood'));
    expect(await movedOn()).toBe(true);
    await editBoard(stage, board, (document) => document.setConcept(''));
    expect(await movedOn()).toBe(false);
  });

  it('can be looked at as it was sent, whatever the board says by now and whatever was decided', async () => {
    await editBoard(stage, board, (document) => document.setConcept('Flood'));
    const change = await sendUp(coach);
    const sent = () => head.gets(sentPlaySchema, 'GET', `/api/changes/${change.id}/play`);
    await editBoard(stage, board, (document) => document.setConcept('After sending'));
    const atFirst = await sent();
    expect(atFirst.content.play.concept).toBe('Flood');
    expect((await signOff(head, change.id)).status).toBe(200);
    expect(await sent()).toEqual(atFirst);
  });

  it('says how many threads about the play are still open', async () => {
    const change = await sendUp(coach);
    const open = async () => (await waiting()).find(({ id }) => id === change.id)?.openComments;
    expect(await open()).toBe(0);
    const [first] = await Promise.all(
      ['Too wide?', 'Whose man?'].map((text) =>
        coordinator.gets(threadSchema, 'POST', `/api/boards/${board}/threads`, {
          anchor: '',
          text,
        }),
      ),
    );
    expect(await open()).toBe(2);
    await coach.does('PATCH', `/api/threads/${first?.id}`, { resolved: true });
    expect(await open()).toBe(1);
  });

  it('is listed without its play being read: many, each as large as a board can be, took seconds', async () => {
    const { id } = await sendUp(coach);
    // Nothing that a play's schema takes, so that whoever reads it fails.
    const play = { play: { name: 'Only a name' }, notes: 'unread' };
    await stage.prisma.installChange.update({ where: { id }, data: { play } });
    expect(await waiting()).toContainEqual(
      expect.objectContaining({ id, boardName: 'Only a name' }),
    );
    const list = z.array(changeSchema);
    const [line] = await head.gets(list, 'GET', `/api/boards/${board}/changes`);
    expect(line).toMatchObject({ id, boardName: 'Only a name' });
    await stage.prisma.installChange.delete({ where: { id } });
  });

  it('of what is signed off already is refused', async () => {
    const change = await sendUp(coach);
    expect((await signOff(head, change.id)).status).toBe(200);
    await coach.isRefused(
      409,
      'POST',
      `/api/boards/${board}/changes`,
      { message: '' },
      'nothingChanged',
    );
  });
});

describe('the decision', () => {
  it('makes an immutable version of the frozen board, numbered from 1', async () => {
    const first = await sendUp(coach);
    await editBoard(stage, board, (document) => document.setConcept('After sending'));
    expect((await signOff(head, first.id)).status).toBe(200);
    const again = await sendUp(coordinator);
    expect(again.words.join(' ')).toContain('After sending');
    expect((await signOff(second, again.id)).status).toBe(200);
    const list = await versions();
    expect(list.map(({ number, author, signer }) => [number, author, signer])).toEqual([
      [2, 'Coordinator', 'Second head'],
      [1, 'Coach', 'Head'],
    ]);
    const one = await head.gets(versionSchema, 'GET', `/api/versions/${list[1]?.id}`);
    expect(one.content.play.concept).toBe('');
    expect((await head.gets(versionSchema, 'GET', `/api/boards/${board}/signed`)).number).toBe(2);
  });

  it('is taken once: a double click and two head coaches make one version', async () => {
    const change = await sendUp(coach);
    const answers = await Promise.all(
      [head, head, second, second].map((by) => signOff(by, change.id)),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409, 409, 409]);
    expect(await versions()).toHaveLength(1);
    expect(
      await stage.prisma.auditEvent.count({
        where: { boardId: board, what: { startsWith: 'signed off' } },
      }),
    ).toBe(1);
  });

  it('signs or withdraws, whichever comes first, and never both', async () => {
    const change = await sendUp(coach);
    const [signed, withdrawn] = await Promise.all([
      signOff(head, change.id),
      coach.ask('POST', `/api/changes/${change.id}/withdraw`),
    ]);
    expect([signed.status, withdrawn.status].sort()).toEqual([200, 409]);
    expect(await versions()).toHaveLength(signed.status === 200 ? 1 : 0);
  });

  it('may send back, which takes a word of why', async () => {
    const change = await sendUp(coach);
    await head.isRefused(422, 'POST', `/api/changes/${change.id}/decision`, {
      decision: 'sendBack',
      reply: '  ',
    });
    const back = await head.gets(changeSchema, 'POST', `/api/changes/${change.id}/decision`, {
      decision: 'sendBack',
      reply: 'Too tight.',
    });
    expect(back).toMatchObject({
      state: 'sentBack',
      reply: 'Too tight.',
      decidedBy: 'Head',
      version: null,
    });
    expect(await versions()).toEqual([]);
    await sendUp(coach);
  });

  it('is blocked by a finding of the highest severity until that is waived with a reason', async () => {
    await breakFormation();
    const change = await sendUp(coach);
    const stops = change.findings.filter(({ severity }) => severity === 'stop');
    expect(stops.length).toBeGreaterThan(0);
    const problem = await head.isRefused(
      409,
      'POST',
      `/api/changes/${change.id}/decision`,
      { decision: 'signOff' },
      'blocked',
    );
    expect(problem.where?.map(({ path }) => path)).toEqual(stops.map(({ id }) => id));
    for (const { id } of stops) {
      await head.isRefused(422, 'POST', `/api/boards/${board}/waivers`, {
        findingId: id,
        reason: '',
      });
      await head.does('POST', `/api/boards/${board}/waivers`, {
        findingId: id,
        reason: 'A trick play.',
      });
    }
    const after = await signOff(head, change.id);
    expect(
      changeSchema
        .parse(JSON.parse(after.text))
        .findings.filter(({ severity }) => severity === 'stop')
        .every(({ waived }) => waived),
    ).toBe(true);
  });

  it('lets a finding be waived that stands and is in no record yet', async () => {
    await breakFormation();
    const { findings } = await stage.rooms.freeze(board);
    const [stop] = findings.filter(({ finding }) => finding.severity === 'stop');
    await stage.prisma.findingRecord.deleteMany({ where: { boardId: board } });
    await head.does('POST', `/api/boards/${board}/waivers`, {
      findingId: stop?.finding.id,
      reason: 'A trick play.',
    });
  });

  it('is blocked again when the waiver is taken back', async () => {
    await breakFormation();
    const change = await sendUp(coach);
    const stops = change.findings.filter(({ severity }) => severity === 'stop');
    for (const { id } of stops)
      await head.does('POST', `/api/boards/${board}/waivers`, { findingId: id, reason: 'Yes.' });
    await head.does(
      'DELETE',
      `/api/boards/${board}/waivers?findingId=${encodeURIComponent(stops[0]?.id ?? '')}`,
    );
    await head.isRefused(
      409,
      'POST',
      `/api/changes/${change.id}/decision`,
      { decision: 'signOff' },
      'blocked',
    );
    await head.isRefused(404, 'DELETE', `/api/boards/${board}/waivers?findingId=none`);
    await head.isRefused(404, 'POST', `/api/boards/${board}/waivers`, {
      findingId: 'none',
      reason: 'x',
    });
  });

  it('is withdrawn by nobody but who sent it', async () => {
    const change = await sendUp(coach);
    await coordinator.isRefused(
      403,
      'POST',
      `/api/changes/${change.id}/withdraw`,
      undefined,
      'notAllowed',
    );
    const gone = await coach.gets(changeSchema, 'POST', `/api/changes/${change.id}/withdraw`);
    expect(gone.state).toBe('withdrawn');
    await coach.isRefused(
      409,
      'POST',
      `/api/changes/${change.id}/withdraw`,
      undefined,
      'alreadyDecided',
    );
  });
});

describe('the audit trail', () => {
  it('tells who did what, newest first', async () => {
    const change = await sendUp(coach);
    await signOff(head, change.id);
    const events = await head.gets(z.array(auditEventSchema), 'GET', `/api/staffs/${staff}/audit`);
    const ours = events.filter(({ boardId }) => boardId === board);
    expect(ours.map(({ name, what }) => `${name} ${what}`)).toEqual([
      'Head signed off version 1 of “Sail”',
      'Coach sent “Sail” up for sign-off',
      'Head drew up “Sail”',
    ]);
  });
});
