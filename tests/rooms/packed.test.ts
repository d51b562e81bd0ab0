import { newDocument, rootsOf } from '@stemline/board/schema';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { boardAt } from '../../apps/server/src/history/past.ts';
import { thinBoard } from '../../apps/server/src/history/thin.ts';
import { restoreTo } from '../../packages/board/src/restore.ts';
import { replay } from './soak/replay.ts';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';
import { copyOf, wear } from './support/wear.ts';

let stage: Stage;
let staff: string;
let head: Person;
let ben: Person;
let receivers: Person;
const H = asPlayerId('H');
const X = asPlayerId('X');
const limits = { idleUnloadMs: 50, compactAfterUpdates: 400 };

beforeAll(async () => {
  stage = await openStage({ limits });
  staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  ben = await stage.person(staff, 'Ben Ruiz', 'coordinator');
  receivers = await stage.person(staff, 'Cleo Vance', 'positionCoach', 'receivers');
}, 120_000);
afterAll(() => stage?.close(), 60_000);

/** Something that others wait for. */
function signal(): { given: Promise<void>; give: () => void } {
  let give: () => void = () => undefined;
  const given = new Promise<void>((resolve) => {
    give = resolve;
  });
  return { given, give };
}

const here = new Set<Coach>();
afterEach(async () => {
  for (const coach of here) coach.leave();
  here.clear();
  await until('unloaded', () => stage.rooms.stats().rooms === 0);
});

function comeTo(board: string, who: Person, ydoc?: Y.Doc, on = stage): Coach {
  const coach = on.coach(board, who, ydoc);
  here.add(coach);
  return coach;
}

async function coachOn(board: string, who: Person, ydoc?: Y.Doc, on = stage): Promise<Coach> {
  const coach = comeTo(board, who, ydoc, on);
  await until('synced', () => coach.synced && coach.saved.length > 0, 30_000);
  return coach;
}

const packings = async (board: string): Promise<number> =>
  (await stage.prisma.board.findUniqueOrThrow({ where: { id: board } })).packings;

/** Resolves once everybody has left and the board is packed so many times. */
async function packed(board: string, times = 1): Promise<void> {
  await until('unloaded', () => stage.rooms.stats().rooms === 0);
  await expect.poll(() => packings(board), { timeout: 20_000 }).toBe(times);
}

const logOf = (board: string): Promise<Y.Doc> => replay(stage.prisma, board);

const placeOf = ({ board }: Coach, id = H): unknown =>
  board.snapshot().board.play.players.find((player) => player.id === id)?.at;

const contentOf = async (board: string): Promise<unknown> =>
  (await stage.rooms.freeze(board)).content;

/** A board that was worn, a copy from before the last moves, and the board packed since. */
async function boardPackedOver(): Promise<{ board: string; copy: Y.Doc }> {
  const board = await stage.board(head);
  const coach = await coachOn(board, ben);
  await wear(coach);
  const copy = copyOf(coach);
  await wear(coach, 40);
  coach.leave();
  await packed(board);
  return { board, copy };
}

describe('a board packed at rest', () => {
  it('R87 it is packed when nobody is there, and says the same to a joiner, in its past and when restored', async () => {
    const board = await stage.board(head);
    const coach = await coachOn(board, ben);
    await wear(coach);
    const { byteLength } = Y.encodeStateAsUpdate(coach.ydoc);
    const was = coach.board.snapshot().board;
    expect(await packings(board)).toBe(0);
    coach.leave();
    await packed(board);
    const joiner = await coachOn(board, head);
    expect(joiner.board.snapshot().board).toEqual(was);
    expect(Y.encodeStateAsUpdate(joiner.ydoc).byteLength).toBeLessThan(byteLength / 2);
    expect(Y.encodeStateVector(joiner.ydoc)).toEqual(Y.encodeStateVector(await logOf(board)));
    joiner.board.movePlayer(H, [-2, -3]);
    await until('saved', () => joiner.isSaved);
    const rows = await stage.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
    });
    const middle = rows[700];
    if (!middle) throw new Error('fewer rows than moves');
    const expected = newDocument();
    for (const { bytes } of rows.filter(({ at }) => at <= middle.at))
      Y.applyUpdate(expected, bytes);
    const past = await boardAt(stage.prisma, board, middle.at);
    if (!past) throw new Error('no past');
    expect(rootsOf(past.ydoc).maps.spots.toJSON()).toEqual(rootsOf(expected).maps.spots.toJSON());
    await stage.rooms.edit(
      board,
      { memberId: head.memberId, name: head.name, scope: { kind: 'all' } },
      (ydoc) => restoreTo(ydoc, past.ydoc),
    );
    await expect
      .poll(() => rootsOf(joiner.ydoc).maps.spots.toJSON())
      .toEqual(rootsOf(past.ydoc).maps.spots.toJSON());
    joiner.leave();
  }, 60_000);

  it('R87 it is left alone while somebody is on it, and when there is nothing to gain', async () => {
    const board = await stage.board(head);
    const coach = await coachOn(board, ben);
    await wear(coach);
    coach.leave();
    const other = await coachOn(board, head);
    await until('one room', () => stage.rooms.stats().rooms === 1);
    expect(await packings(board)).toBe(0);
    other.leave();
    await packed(board);
    // Another visit that changes little.
    const again = await coachOn(board, head);
    again.board.setName('Once more');
    await until('saved', () => again.isSaved);
    again.leave();
    await packed(board, 1);
  }, 60_000);

  it('R85 who had everything goes on with his copy and never notices, offline edits included', async () => {
    const board = await stage.board(head);
    const coach = await coachOn(board, ben);
    await wear(coach);
    coach.provider.disconnect();
    await packed(board);
    coach.board.movePlayer(H, [-3, -4]);
    coach.board.movePlayer(X, [-20, -1.5]);
    coach.provider.connect();
    await until('saved', () => coach.isSaved && coach.synced);
    const joiner = await coachOn(board, head);
    expect(placeOf(joiner)).toEqual([-3, -4]);
    joiner.board.movePlayer(H, [-5, -4]);
    await until('seen', () => JSON.stringify(placeOf(coach)) === '[-5,-4]');
    expect(coach.board.snapshot().board).toEqual(joiner.board.snapshot().board);
    expect(coach.closes.filter((code) => code >= 4400)).toEqual([]);
    coach.leave();
    joiner.leave();
  }, 60_000);

  it('R85 who lacks some of it is answered from the whole board, and takes part like anybody', async () => {
    const { board, copy } = await boardPackedOver();
    const older = await coachOn(board, head, copy);
    const joiner = await coachOn(board, ben);
    expect(older.board.snapshot().board).toEqual(joiner.board.snapshot().board);
    older.board.movePlayer(H, [-1, -6]);
    await until('seen', () => JSON.stringify(placeOf(joiner)) === '[-1,-6]');
    joiner.board.movePlayer(X, [-21, -1.3]);
    await until('seen', () => JSON.stringify(placeOf(older, X)) === '[-21,-1.3]');
    // His next answer brings no deletion that nobody made.
    older.provider.disconnect();
    older.provider.connect();
    await until('back', () => older.synced);
    expect(await contentOf(board)).toEqual(joiner.board.snapshot().board);
    expect(older.closes.filter((code) => code >= 4400)).toEqual([]);
    older.leave();
    joiner.leave();
  }, 60_000);
});

describe('work done offline over a packing', () => {
  it('R86 it is written on the board as plain Yjs would have it, in his name, seen by all, and his copy is given up', async () => {
    // Who of two writers of one value prevails hangs on their client ids: take both ways.
    for (const clientId of [2, 4_294_967_295]) {
      const { board, copy } = await boardPackedOver();
      copy.clientID = clientId;
      copy.getMap('spots').set('H', [-9.5, -9.5]);
      copy.getMap('meta').set('concept', 'From the bus');
      const plain = await logOf(board);
      Y.applyUpdate(plain, Y.encodeStateAsUpdate(copy));
      const expected = rootsOf(plain).maps;
      expect(JSON.stringify(expected.spots.get('H')) === '[-9.5,-9.5]').toBe(clientId !== 2);
      const colleague = await coachOn(board, ben);
      const back = comeTo(board, head, copy);
      expect((await until('closed', () => back.closed)).code).toBe(4410);
      expect(back.refused).toEqual([]);
      // He was told that it is safe before he was sent away.
      expect(back.saved.at(-1)?.updates).toBe(1);
      await until('seen', () => colleague.board.snapshot().board.play.concept === 'From the bus');
      expect(placeOf(colleague)).toEqual(expected.spots.get('H'));
      const author = await stage.prisma.elementAuthor.findUniqueOrThrow({
        where: { boardId_element: { boardId: board, element: 'meta/concept' } },
      });
      expect(author.name).toBe('Ada Holm');
      const fresh = await coachOn(board, head);
      expect(fresh.board.snapshot().board).toEqual(colleague.board.snapshot().board);
      expect(rootsOf(await logOf(board)).maps.spots.toJSON()).toEqual(
        rootsOf(fresh.ydoc).maps.spots.toJSON(),
      );
      for (const coach of [colleague, back, fresh]) coach.leave();
    }
  }, 90_000);

  it('R86 brought back twice it is written once', async () => {
    const { board, copy } = await boardPackedOver();
    copy.clientID = 4_294_967_290;
    copy.getMap('spots').set('H', [-9.5, -9.5]);
    const kept = Y.encodeStateAsUpdate(copy);
    const back = comeTo(board, head, copy);
    await until('taken', () => back.closed?.code === 4410);
    back.leave();
    const colleague = await coachOn(board, ben);
    expect(placeOf(colleague)).toEqual([-9.5, -9.5]);
    colleague.board.movePlayer(H, [-2, -2]);
    await until('saved', () => colleague.isSaved);
    const again = newDocument(4_294_967_290);
    Y.applyUpdate(again, kept);
    again.clientID = 4_294_967_290;
    const rows = await stage.prisma.boardUpdate.count({ where: { boardId: board } });
    const twice = comeTo(board, head, again);
    await until('sent away again', () => twice.closed?.code === 4410);
    expect(placeOf(colleague)).toEqual([-2, -2]);
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(rows);
    twice.leave();
    // With something new on top, just that.
    const more = newDocument();
    Y.applyUpdate(more, kept);
    more.clientID = 4_294_967_290;
    more.getMap('spots').set('X', [-19, -9]);
    const third = comeTo(board, head, more);
    await until('taken', () => third.closed?.code === 4410);
    await until('seen', () => JSON.stringify(placeOf(colleague, X)) === '[-19,-9]');
    expect(placeOf(colleague)).toEqual([-2, -2]);
    third.leave();
    colleague.leave();
  }, 60_000);

  it('R86 R35 the same scope holds: what a position coach may not change is refused and kept', async () => {
    const { board, copy } = await boardPackedOver();
    copy.getMap('meta').set('name', 'Mine now');
    copy.getMap('spots').set('H', [-9.5, -9.5]);
    const back = comeTo(board, receivers, copy);
    expect((await until('closed', () => back.closed)).code).toBe(4409);
    expect(back.refused[0]?.code).toBe('scope');
    await expect.poll(() => stage.prisma.quarantine.count({ where: { boardId: board } })).toBe(1);
    expect((await stage.rooms.freeze(board)).content.play.name).toBe('Harbour');
    back.leave();
  }, 60_000);

  it('R51 R86 when his access comes in question meanwhile, it is taken by the new right', async () => {
    const { board, copy } = await boardPackedOver();
    const who = await stage.person(staff, 'Dov Arden', 'coordinator');
    copy.getMap('meta').set('name', 'Mine now');
    copy.getMap('spots').set('H', [-9.5, -9.5]);
    const { pool } = stage.prisma;
    const query = pool.query.bind(pool) as (...asked: unknown[]) => unknown;
    const [read, decided] = [signal(), signal()];
    let readings = 0;
    const asking = vi.spyOn(pool, 'query').mockImplementation(async (...asked: unknown[]) => {
      const { name, text } = asked[0] as { name?: string; text?: string };
      if (name === 'standings' && readings > 1) await decided.given;
      // The first is for the answer to his sync.
      if (text?.includes('packed IS NULL ORDER BY') && ++readings > 1) await read.given;
      return query(...asked);
    });
    const back = comeTo(board, who, copy);
    await until('the board is read whole', () => readings > 1);
    await stage.prisma.member.update({
      where: { id: who.memberId },
      data: { removedAt: new Date() },
    });
    const told = stage.rooms.accessChanged({ memberId: who.memberId });
    read.give();
    await new Promise((resolve) => setTimeout(resolve, 300));
    decided.give();
    await told;
    asking.mockRestore();
    expect((await until('closed', () => back.closed)).code).toBe(4406);
    expect((await stage.rooms.freeze(board)).content.play.name).toBe('Harbour');
  }, 60_000);

  it('R86 a removal that came too late removes nothing', async () => {
    const board = await stage.board(head);
    const first = await coachOn(board, ben);
    const copy = copyOf(first);
    for (let i = 0; i < 5; i++) first.board.setConcept(`Flood ${i}`);
    await wear(first);
    first.leave();
    await packed(board);
    copy.getMap('spots').delete('H');
    const back = comeTo(board, head, copy);
    // The place that he removed was not the last: nothing of it is left to remove.
    await until('synced', () => back.synced);
    await until('answered', () => back.saved.length > 1);
    expect(back.board.snapshot().board).toEqual(await contentOf(board));
    back.leave();
  }, 60_000);

  it('R86 notes typed offline stand beside those of others', async () => {
    const board = await stage.board(head);
    const coach = await coachOn(board, ben);
    const paragraph = (text: string): Y.XmlElement => {
      const element = new Y.XmlElement('paragraph');
      element.insert(0, [new Y.XmlText(text)]);
      return element;
    };
    coach.board.notes.insert(0, [paragraph('Both saw this.')]);
    await wear(coach);
    const copy = copyOf(coach);
    coach.board.notes.insert(1, [paragraph('Ben wrote this.')]);
    await wear(coach, 40);
    coach.leave();
    await packed(board);
    copy.clientID = 4_294_967_280;
    copy.getMap('spots').set('H', [-9.5, -9.5]);
    copy.getXmlFragment('notes').insert(0, [paragraph('Ada wrote this.')]);
    const colleague = await coachOn(board, ben);
    const back = comeTo(board, head, copy);
    await until('taken', () => back.closed?.code === 4410);
    await until('seen', () => {
      const notes = colleague.board.notes.toString();
      return ['Ada', 'Both', 'Ben'].every((word) => notes.split(word).length === 2);
    });
    expect(placeOf(colleague)).toEqual([-9.5, -9.5]);
    back.leave();
    colleague.leave();
  }, 60_000);

  it('R85 R86 packed again, and its history thinned, nothing of it is lost', async () => {
    const { board, copy } = await boardPackedOver();
    const second = await coachOn(board, ben);
    const copyOfPacked = copyOf(second);
    await wear(second);
    second.leave();
    await packed(board, 2);
    const later = new Date(Date.now() + 20 * 24 * 60 * 60 * 1000);
    expect(await thinBoard(stage.prisma, board, later)).toBeGreaterThan(1_000);
    const expected = await contentOf(board);
    for (const [i, older] of [copy, copyOfPacked].entries()) {
      const reader = newDocument();
      Y.applyUpdate(reader, Y.encodeStateAsUpdate(older));
      const reading = await coachOn(board, head, reader);
      expect(reading.board.snapshot().board.play.players).toEqual(
        (expected as ReturnType<typeof reading.board.snapshot>['board']).play.players,
      );
      reading.leave();
      older.clientID = 4_294_967_200 + i;
      older.getMap('meta').set('concept', `Brought back ${i}`);
      older.getMap('spots').set('Q', [i, -5]);
      const back = comeTo(board, head, older);
      await until('taken', () => back.isSaved || back.closed?.code === 4410);
      const { play } = (await stage.rooms.freeze(board)).content;
      expect(play.concept).toBe(`Brought back ${i}`);
      expect(play.players.find(({ id }) => id === 'Q')?.at).toEqual([i, -5]);
      back.leave();
    }
  }, 90_000);
});

describe('two servers', () => {
  it('R88 one that holds the board as it was writes nothing more to it, and nothing is lost', async () => {
    const other = await openStage({
      prisma: stage.prisma,
      limits: { ...limits, idleUnloadMs: 60_000 },
    });
    const board = await stage.board(head);
    const coach = await coachOn(board, ben);
    await wear(coach);
    const there = await coachOn(board, head, undefined, other);
    const reader = await coachOn(board, receivers, undefined, other);
    coach.leave();
    await packed(board);
    there.board.movePlayer(H, [-4, -7]);
    await until('saved', () => there.isSaved, 20_000);
    expect(there.closes).toContain(4503);
    expect(there.closed).toBeNull();
    const joiner = await coachOn(board, ben);
    expect(placeOf(joiner)).toEqual([-4, -7]);
    await until('seen', () => JSON.stringify(placeOf(reader)) === '[-4,-7]', 20_000);
    for (const each of [there, reader, joiner]) each.leave();
    await other.close();
  }, 60_000);
});
