import { newDocument } from '@stemline/board/schema';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it, onTestFinished, vi } from 'vitest';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import type { BoardStore } from '../../apps/server/src/rooms/store.ts';
import type { Person } from './support/accounts.ts';
import { socketWith, until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';

let stage: Stage;
let head: Person;
let coordinator: Person;
/** While set, commits wait for it. */
let held: Promise<void> | null = null;

const holdable = (store: BoardStore): BoardStore => ({
  ...store,
  append: async (boards) => {
    await held;
    return store.append(boards);
  },
});

function holdCommits(): () => void {
  let release: () => void = () => undefined;
  held = new Promise((resolve) => {
    release = resolve;
  });
  return () => {
    held = null;
    release();
  };
}

beforeAll(async () => {
  stage = await openStage({ wrap: holdable });
  const staff = await stage.staff();
  head = await stage.person(staff, 'Ada Holm', 'headCoach');
  coordinator = await stage.person(staff, 'Ben Ruiz', 'coordinator');
}, 120_000);
afterAll(() => stage?.close(), 60_000);

describe('saved', () => {
  it('two plain clients edit and converge; who comes later sees the same', async () => {
    const board = await stage.board(head);
    const a = stage.coach(board, head);
    const b = stage.coach(board, coordinator);
    await until('both synced', () => a.synced && b.synced);
    expect(a.board.snapshot().board.play.players).toHaveLength(11);
    a.board.movePlayer(asPlayerId('H'), [-9, -1]);
    b.board.setName('Lantern');
    await until('both saved', () => a.isSaved && b.isSaved);
    await until(
      'equal',
      () =>
        a.board.snapshot().board.play.name === 'Lantern' &&
        b.board.snapshot().board.play.players.find(({ id }) => id === 'H')?.at[0] === -9,
    );
    const late = stage.coach(board, head);
    await until('late synced', () => late.synced);
    expect(late.board.snapshot().board).toEqual(a.board.snapshot().board);
    expect(Y.encodeStateAsUpdate(late.ydoc)).toEqual(Y.encodeStateAsUpdate(a.ydoc));
  });

  it("an untouched provider, to whom the room's own messages mean nothing, syncs both ways", async () => {
    const board = await stage.board(head);
    // It says of each message it does not know that it cannot compute it, and goes on.
    const complaints = vi.spyOn(console, 'error').mockImplementation(() => undefined);
    const ydoc = newDocument();
    const provider = new WebsocketProvider(stage.url, board, ydoc, {
      WebSocketPolyfill: socketWith({ cookie: head.cookie }),
      disableBc: true,
    });
    const b = stage.coach(board, coordinator);
    await until('both synced', () => provider.synced && b.synced);
    ydoc.getMap('meta').set('name', 'From the plain one');
    await until('seen', () => b.board.snapshot().board.play.name === 'From the plain one');
    b.board.setName('Back to it');
    await until('seen', () => ydoc.getMap('meta').get('name') === 'Back to it');
    expect(complaints.mock.calls.flat()).toContain('Unable to compute message');
    provider.destroy();
    complaints.mockRestore();
  });

  it('R1 R2 nobody sees or hears of an edit before its commit', async () => {
    const board = await stage.board(head);
    const a = stage.coach(board, head);
    const b = stage.coach(board, coordinator);
    await until('both synced and greeted', () => a.synced && b.synced && a.saved.length > 0);
    const release = holdCommits();
    onTestFinished(release);
    a.board.setName('Held back');
    const late = stage.coach(board, coordinator);
    await until('a third one synced', () => late.synced);
    // Presence is not held: it came later than the edit and has arrived, so the edit could have.
    a.provider.awareness.setLocalStateField('cursor', [1, 2]);
    await until('presence has passed', () =>
      [...b.provider.awareness.getStates().values()].some((state) => state.cursor),
    );
    expect(b.board.snapshot().board.play.name).toBe('Harbour');
    expect(late.board.snapshot().board.play.name).toBe('Harbour');
    // The answer to his own sync may still come; it covers nothing of this.
    expect(a.isSaved).toBe(false);
    expect(await stage.prisma.boardUpdate.count({ where: { boardId: board } })).toBe(1);
    release();
    await until('saved', () => a.isSaved);
    await until(
      'seen',
      () =>
        b.board.snapshot().board.play.name === 'Held back' &&
        late.board.snapshot().board.play.name === 'Held back',
    );
  });

  it('R1 counts a deletion alone, which moves no state vector', async () => {
    const board = await stage.board(head);
    const a = stage.coach(board, head);
    await until('synced', () => a.synced && a.saved.length > 0);
    const before = a.saved.at(-1)?.updates ?? 0;
    a.board.removePlayer(asPlayerId('F'));
    await until('one more update saved', () => (a.saved.at(-1)?.updates ?? 0) > before);
    const { content } = await stage.rooms.freeze(board);
    expect(content.play.players.map(({ id }) => id)).not.toContain('F');
  });

  it('R2 freeze waits for what is accepted', async () => {
    const board = await stage.board(head);
    const a = stage.coach(board, head);
    const b = stage.coach(board, coordinator);
    await until('synced', () => a.synced && b.synced);
    const release = holdCommits();
    a.board.setName('Frozen');
    a.provider.awareness.setLocalStateField('cursor', [3, 4]);
    await until('the room has it', () =>
      [...b.provider.awareness.getStates().values()].some((state) => state.cursor),
    );
    const frozen = stage.rooms.freeze(board);
    release();
    expect((await frozen).content.play.name).toBe('Frozen');
  });

  it('R3 R70 the log keeps the order, and the book says what the board says', async () => {
    const board = await stage.board(head);
    const before = await stage.prisma.board.findUniqueOrThrow({ where: { id: board } });
    const a = stage.coach(board, head);
    await until('synced', () => a.synced);
    for (let i = 1; i <= 50; i++) a.board.setName(`Name ${i}`);
    a.board.setConcept('Mesh');
    a.board.movePlayer(asPlayerId('H'), [12, -1.2]);
    await until('saved', () => a.isSaved);
    const rows = await stage.prisma.boardUpdate.findMany({
      where: { boardId: board },
      orderBy: { id: 'asc' },
    });
    const replay = new Y.Doc();
    for (const { bytes } of rows) {
      Y.applyUpdate(replay, bytes);
      expect(replay.store.pendingStructs).toBeNull();
    }
    expect(Y.encodeStateAsUpdate(replay)).toEqual(Y.encodeStateAsUpdate(a.ydoc));
    const after = await stage.prisma.board.findUniqueOrThrow({ where: { id: board } });
    expect(after).toMatchObject({ name: 'Name 50', concept: 'Mesh', formation: '3x1' });
    expect(after.updatedAt.getTime()).toBeGreaterThan(before.updatedAt.getTime());
  });
});
