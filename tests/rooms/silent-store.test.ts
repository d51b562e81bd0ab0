import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Server, type Socket } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import { handPlay } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { insertBoard } from '../../apps/server/src/boards/create-board.ts';
import { openDatabase, type Prisma } from '../../apps/server/src/database.ts';
import { freshDatabase } from '../../apps/server/src/testing/database.ts';
import type { Person } from './support/accounts.ts';
import { until } from './support/coach.ts';
import { openStage, type Stage } from './support/stage.ts';

/** Milliseconds that a statement may take here. */
const patienceMs = 1_500;

/** A way to PostgreSQL on which connections can fall silent: open, and nothing comes through any more. */
class Way {
  readonly #server: Server;
  readonly #ends = new Set<Socket>();

  constructor(to: URL) {
    this.#server = createServer((near) => {
      const far = connect(Number(to.port), to.hostname);
      for (const [one, other] of [
        [near, far],
        [far, near],
      ] as const) {
        this.#ends.add(one);
        one.pipe(other);
        one.on('error', () => other.destroy());
        one.on('close', () => {
          this.#ends.delete(one);
          other.destroy();
        });
      }
    });
  }

  async open(): Promise<number> {
    this.#server.listen(0, '127.0.0.1');
    await once(this.#server, 'listening');
    return (this.#server.address() as AddressInfo).port;
  }

  /** Every connection there is; those made later are well. */
  silence(): void {
    for (const end of this.#ends) {
      end.unpipe();
      end.pause();
    }
  }

  async close(): Promise<void> {
    for (const end of this.#ends) end.destroy();
    this.#server.close();
    await once(this.#server, 'close');
  }
}

let way: Way;
let prisma: Prisma;
/** Not by that way. */
let direct: Prisma;
let stage: Stage;
let head: Person;

beforeAll(async () => {
  const database = await freshDatabase();
  direct = database.prisma;
  const through = new URL(database.url);
  way = new Way(new URL(database.url));
  through.port = String(await way.open());
  through.hostname = '127.0.0.1';
  prisma = openDatabase(through.href, () => undefined, patienceMs);
  stage = await openStage({ prisma });
  head = await stage.person(await stage.staff(), 'Ada Holm', 'headCoach');
});
afterAll(async () => {
  await stage?.close();
  await way?.close();
  await prisma?.$disconnect();
});

describe('R5 a database that went without a word', () => {
  it('is given up, and what it did not confirm is committed over another connection', async () => {
    const board = await stage.board(head);
    const [ada, also] = [stage.coach(board, head), stage.coach(board, head)];
    await until('synced', () => ada.synced && also.synced);
    ada.board.setConcept('before');
    await until('saved', () => ada.isSaved);
    way.silence();
    ada.board.setConcept('into silence');
    await pause(patienceMs / 3);
    expect(ada.isSaved).toBe(false);
    also.board.setName('meanwhile');
    await until('saved', () => ada.isSaved && also.isSaved, 15_000);
    await until('seen', () => also.board.snapshot().board.play.concept === 'into silence');
    expect([...ada.closes, ...also.closes]).toEqual([]);
    const { play } = also.board.snapshot().board;
    expect([play.concept, play.name]).toEqual(['into silence', 'meanwhile']);
    const rows = await direct.boardUpdate.findMany({ where: { boardId: board } });
    const stored = new Y.Doc();
    for (const { bytes } of rows) Y.applyUpdate(stored, bytes);
    expect(Y.encodeStateVector(stored)).toEqual(Y.encodeStateVector(ada.ydoc));
  });

  it('holds up who comes for no longer than that', async () => {
    const board = await direct.$transaction((tx) => insertBoard(tx, head, handPlay(), []));
    way.silence();
    const coach = stage.coach(board, head);
    await until('in', () => coach.synced, 30_000);
  });
});
