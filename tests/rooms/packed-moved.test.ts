import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { newDocument, rootsOf } from '@stemline/board/schema';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { exportStaff } from '../../apps/server/src/archive/export.ts';
import { importStaff } from '../../apps/server/src/archive/import.ts';
import { readArchive } from '../../apps/server/src/archive/reading/read-archive.ts';
import { backUp } from '../../apps/server/src/backup/backup.ts';
import { restoreBackup } from '../../apps/server/src/backup/restore.ts';
import type { Prisma } from '../../apps/server/src/database.ts';
import { boardAt } from '../../apps/server/src/history/past.ts';
import { sittingsOf } from '../../apps/server/src/history/sittings.ts';
import { readMigrations } from '../../apps/server/src/migrations/folder.ts';
import { freshDatabase } from '../../apps/server/src/testing/database.ts';
import { restoreTo } from '../../packages/board/src/restore.ts';
import { replay } from './soak/replay.ts';
import type { Person } from './support/accounts.ts';
import { type Coach, until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';
import { copyOf, wear } from './support/wear.ts';

// Boards that were packed, in another store: by a backup, and by the archive of a staff.

const H = asPlayerId('H');
const limits = { idleUnloadMs: 50, compactAfterUpdates: 400 };
let folder: string;
let before: Stage;
let after: Stage;
let ada: Person;
let ben: Person;
let board: string;
/** What a coach had on his laptop before the last moves, and before the packing. */
let laptop: Y.Doc;

async function coachOn(stage: Stage, who: Person, id = board, ydoc?: Y.Doc): Promise<Coach> {
  const coach = stage.coach(id, who, ydoc);
  await until('synced', () => coach.synced && coach.saved.length > 0, 30_000);
  return coach;
}
const unloaded = (stage: Stage) => until('unloaded', () => stage.rooms.stats().rooms === 0);
async function packedTimes(times: number): Promise<void> {
  const { board: table } = before.prisma;
  for (let tries = 0; tries < 400; tries++) {
    if ((await table.findUniqueOrThrow({ where: { id: board } })).packings === times) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`the board was not packed ${times} times`);
}
const placeOf = ({ board }: Coach): unknown =>
  board.snapshot().board.play.players.find(({ id }) => id === 'H')?.at;
const snapshotsOf = (prisma: Prisma) =>
  prisma.boardSnapshot.findMany({
    where: { boardId: board },
    orderBy: { id: 'asc' },
    select: { id: true, upTo: true, bytes: true, packed: true },
  });

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'stemline-packed-'));
  const source = await freshDatabase();
  before = await openStage({ limits, prisma: source.prisma });
  const staff = await before.staff();
  ada = await before.person(staff, 'Ada Holm', 'headCoach');
  ben = await before.person(staff, 'Ben Ruiz', 'coordinator');
  board = await before.board(ada);
  const first = await coachOn(before, ben);
  await wear(first);
  laptop = copyOf(first);
  await wear(first, 40);
  first.leave();
  await packedTimes(1);
  // Worked on since, and packed once more: packed and whole snapshots, and rows after them.
  const second = await coachOn(before, ben);
  await wear(second);
  second.leave();
  await packedTimes(2);
  const third = await coachOn(before, ben);
  third.board.setConcept('After the packings');
  await until('saved', () => third.isSaved);
  third.leave();
  await unloaded(before);

  const file = join(folder, 'all.gz');
  await backUp(source.url, file, new Date());
  const target = await freshDatabase({ migrated: false });
  await restoreBackup(target.url, file, await readMigrations(), { over: false });
  after = await openStage({ limits, prisma: target.prisma });
}, 180_000);
afterAll(async () => {
  await after?.close();
  await before?.close();
  await rm(folder, { recursive: true, force: true });
}, 60_000);

describe('a packed board in a backup that was restored', () => {
  it('R85 R87 has its packed and whole snapshots, and says the same to a joiner and in its past', async () => {
    const snapshots = await snapshotsOf(before.prisma);
    expect(new Set(snapshots.map(({ packed }) => packed === null))).toEqual(new Set([true, false]));
    expect(await snapshotsOf(after.prisma)).toEqual(snapshots);
    expect(await sittingsOf(after.prisma, board)).toEqual(await sittingsOf(before.prisma, board));
    const rows = await before.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
      select: { at: true },
    });
    expect(rows.length).toBeGreaterThan(100);
    for (const share of [0.1, 0.5, 0.9]) {
      const at = rows[Math.floor(rows.length * share)]?.at ?? null;
      const [was, is] = await Promise.all([
        boardAt(before.prisma, board, at),
        boardAt(after.prisma, board, at),
      ]);
      if (!was || !is) throw new Error('no past');
      expect(Buffer.from(Y.encodeStateAsUpdate(is.ydoc))).toEqual(
        Buffer.from(Y.encodeStateAsUpdate(was.ydoc)),
      );
    }
    const joiner = await coachOn(after, ben);
    expect(joiner.board.snapshot().board.play.concept).toBe('After the packings');
    expect((await before.rooms.freeze(board)).content).toEqual(joiner.board.snapshot().board);
    joiner.leave();
  }, 60_000);

  it('R86 takes what was done offline before the packing', async () => {
    const offline = newDocument();
    Y.applyUpdate(offline, Y.encodeStateAsUpdate(laptop));
    offline.clientID = 4_294_967_290;
    rootsOf(offline).maps.spots.set('H', [-9.5, -9.5]);
    rootsOf(offline).maps.meta.set('name', 'From the bus');
    // What plain Yjs makes of the whole log and his work.
    const plain = await replay(after.prisma, board);
    Y.applyUpdate(plain, Y.encodeStateAsUpdate(offline));
    const colleague = await coachOn(after, ben);
    const back = after.coach(board, ada, offline);
    expect((await until('closed', () => back.closed)).code).toBe(4410);
    expect(back.refused).toEqual([]);
    expect(back.saved.at(-1)?.updates).toBe(1);
    await until('seen', () => colleague.board.snapshot().board.play.name === 'From the bus');
    expect(placeOf(colleague)).toEqual(plain.getMap('spots').get('H'));
    expect(placeOf(colleague)).toEqual([-9.5, -9.5]);
    for (const coach of [colleague, back]) coach.leave();
    await unloaded(after);
  }, 60_000);

  it('R91 is made again what it was before the packing', async () => {
    const [first] = await after.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
      skip: 20,
      take: 1,
    });
    const past = await boardAt(after.prisma, board, first?.at ?? null);
    if (!past) throw new Error('no past');
    const colleague = await coachOn(after, ben);
    const made = await after.rooms.edit(
      board,
      { memberId: ada.memberId, name: ada.name, scope: { kind: 'all' } },
      (ydoc) => restoreTo(ydoc, past.ydoc),
    );
    expect(made).toEqual({ kind: 'made' });
    await until(
      'seen',
      () =>
        JSON.stringify(placeOf(colleague)) === JSON.stringify(rootsOf(past.ydoc).maps.spots.get(H)),
    );
    colleague.leave();
    await unloaded(after);
  }, 60_000);
});

describe('a packed board in the archive of a staff', () => {
  it('R87 comes out and in with the content that it has, and is worked on', async () => {
    const { content } = await before.rooms.freeze(board);
    const archive = await exportStaff(before.prisma, ada.staffId, new Date());
    expect(archive.boards.map((one) => one.content)).toEqual([content]);
    const { userId } = await before.prisma.member.findUniqueOrThrow({
      where: { id: ada.memberId },
    });
    const imports = { id: userId, name: ada.name };
    const file = new TextEncoder().encode(JSON.stringify(archive)).buffer;
    const { staffId } = await readArchive(file, (read) =>
      importStaff(before.prisma, imports, read),
    );
    const imported = await before.prisma.board.findFirstOrThrow({ where: { staffId } });
    expect(imported.packings).toBe(0);
    const coach = await coachOn(before, ada, imported.id);
    expect(coach.board.snapshot().board).toEqual(content);
    coach.board.movePlayer(H, [-3, -4]);
    await until('saved', () => coach.isSaved);
    coach.leave();
  }, 60_000);
});
