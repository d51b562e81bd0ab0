import { newDocument } from '@stemline/board/schema';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { CostlyUpdates } from '../../apps/server/src/rooms/costly-updates.ts';
import type { Person } from './support/accounts.ts';
import { until } from './support/coach.ts';
import { answer, ask, change, type Raw, shown } from './support/raw.ts';
import { openStage, type Stage } from './support/stage.ts';

// What a frame brings about later than in the turn in which it came.

let stage: Stage;
let staff: string;
let head: Person;
let board: string;

beforeAll(async () => {
  stage = await openStage({ limits: { earlyPatienceMs: 200 } });
  staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  board = await stage.board(head);
}, 120_000);
afterAll(() => stage?.close(), 60_000);
afterEach(() => {
  vi.restoreAllMocks();
});

/** Somebody at the board, and an edit of his. */
async function enter(who: Person, { answers }: { answers: boolean }) {
  const raw = stage.raw(board, { cookie: who.cookie });
  await raw.opened;
  raw.send(ask());
  if (answers) raw.send(answer(Uint8Array.of(0, 0)));
  const ydoc = newDocument();
  const there = await until('in sync', () => {
    const seen = shown(raw.frames);
    return seen.getMap('players').size === 11 && seen;
  });
  Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(there));
  const before = Y.encodeStateVector(ydoc);
  ydoc.getMap('meta').set('name', `By ${who.name}`);
  return { raw, edit: change(Y.encodeStateAsUpdate(ydoc, before)) };
}

const logged = ({ memberId }: Person): Promise<number> =>
  stage.prisma.boardUpdate.count({ where: { boardId: board, memberId } });

/** Nothing is decided about anybody until the answer is called. */
function undecided(): () => void {
  const { pool } = stage.prisma;
  const query = pool.query.bind(pool) as (...asked: unknown[]) => unknown;
  let decide: () => void = () => undefined;
  const decided = new Promise<void>((resolve) => {
    decide = resolve;
  });
  vi.spyOn(pool, 'query').mockImplementation(async (...asked: unknown[]) => {
    await decided;
    return query(...asked);
  });
  return decide;
}

/** Removes a member while something of his waits; that is due before it is decided who he is now. */
async function removedMeanwhile(who: Person, raw: Raw, due: Promise<unknown>): Promise<void> {
  await stage.prisma.member.update({
    where: { id: who.memberId },
    data: { removedAt: new Date() },
  });
  const decide = undecided();
  const told = stage.rooms.accessChanged({ memberId: who.memberId });
  await due;
  decide();
  await told;
  expect((await raw.closed).code).toBe(4406);
  expect(await logged(who)).toBe(0);
}

const soon = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

describe('R51 what waits when access comes in question is taken by the new right', () => {
  it('edits that outran the answer to the sync', async () => {
    const who = await stage.person(staff, 'Ben Ruiz', 'coordinator');
    const { raw, edit } = await enter(who, { answers: false });
    raw.send(edit);
    await soon(50);
    await removedMeanwhile(who, raw, soon(400));
  });

  it('edits that wait until earlier ones are paid for', async () => {
    const who = await stage.person(staff, 'Cora Lind', 'coordinator');
    const { raw, edit } = await enter(who, { answers: true });
    const waitMs = vi.spyOn(CostlyUpdates.prototype, 'waitMs').mockReturnValueOnce(200);
    raw.send(edit);
    await until('it waits', () => waitMs.mock.calls.length > 0);
    await removedMeanwhile(who, raw, soon(400));
  });
});

describe('a fault of ours that comes out later', () => {
  it.each([true, false])(
    'ends no more than the connection of whoever brought it out (answered: %s)',
    async (answers) => {
      const who = await stage.person(staff, 'Dora Fenn', 'coordinator');
      const { raw, edit } = await enter(who, { answers });
      const waits = vi.spyOn(CostlyUpdates.prototype, 'waitMs');
      if (answers) waits.mockReturnValueOnce(50);
      vi.spyOn(CostlyUpdates.prototype, 'taken').mockImplementationOnce(() => {
        throw new Error('a fault on purpose');
      });
      raw.send(edit);
      expect((await raw.closed).code).toBe(4400);
      const { content } = await stage.rooms.freeze(board);
      expect(content.play.players).toHaveLength(11);
    },
  );
});
