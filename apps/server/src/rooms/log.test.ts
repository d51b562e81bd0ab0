import { behindAfterMs } from '@stemline/protocol/limits';
import { describe, expect, it, vi } from 'vitest';
import { Log, type Writer } from './log.ts';
import type { Appended, BoardAppend } from './store.ts';

/** A room reduced to what the log sees: numbered updates, and what came of them. */
class Desk implements Writer {
  readonly durable: number[] = [];
  behindTimes = 0;
  staleTimes = 0;
  isGone = false;
  #waiting: number[] = [];
  #handed: number[] = [];

  constructor(
    readonly boardId: string,
    readonly log: Log,
  ) {}

  write(number: number): void {
    this.#waiting.push(number);
    this.log.wants(this);
  }
  gather(): BoardAppend | null {
    if (this.#waiting.length === 0) return null;
    this.#handed = this.#waiting;
    this.#waiting = [];
    return {
      boardId: this.boardId,
      base: 0,
      updates: this.#handed.map((n) => ({
        bytes: Uint8Array.of(n),
        memberId: 'm',
        at: new Date(0),
        rebased: null,
      })),
      clients: new Map(),
      authors: new Map(),
      line: { name: '', concept: '', formation: '' },
    };
  }
  committed(): void {
    this.durable.push(...this.#handed);
  }
  stale(): void {
    this.staleTimes += 1;
    this.#waiting = [...this.#handed, ...this.#waiting];
    this.#handed = [];
    this.log.wants(this);
  }
  behind(): void {
    this.behindTimes += 1;
  }
  gone(): void {
    this.isGone = true;
  }
  broken(error: unknown): void {
    throw error;
  }
}

/** A store in memory that can be away, take one board amiss, or hold a commit until released. */
function memoryStore() {
  const commits: { boards: string[]; numbers: number[] }[] = [];
  const faults = {
    away: false,
    poison: new Set<string>(),
    deleted: new Set<string>(),
    /** Answered once that another server was first. */
    overtaken: new Set<string>(),
  };
  let hold: Promise<void> | null = null;
  let id = 0n;
  let underWay = 0;
  let mostUnderWay = 0;
  return {
    commits,
    faults,
    get mostUnderWay() {
      return mostUnderWay;
    },
    hold(): () => void {
      let release: () => void = () => undefined;
      hold = new Promise((resolve) => {
        release = resolve;
      });
      return () => {
        hold = null;
        release();
      };
    },
    async append(boards: readonly BoardAppend[]): Promise<ReadonlyMap<string, Appended>> {
      underWay += 1;
      mostUnderWay = Math.max(mostUnderWay, underWay);
      try {
        await hold;
        if (faults.away) throw new Error('the store is away');
        if (boards.some(({ boardId }) => faults.poison.has(boardId))) throw new Error('poison');
        const known = boards.filter(({ boardId }) => !faults.deleted.has(boardId));
        const here = known.filter(({ boardId }) => !faults.overtaken.has(boardId));
        commits.push({
          boards: here.map(({ boardId }) => boardId),
          numbers: here.flatMap(({ updates }) => updates.map(({ bytes }) => bytes[0] ?? -1)),
        });
        return new Map(
          known.map(({ boardId }) => [
            boardId,
            faults.overtaken.delete(boardId) ? 'stale' : { last: ++id, revision: Number(id) },
          ]),
        );
      } finally {
        underWay -= 1;
      }
    },
  };
}

function setUp({ batchMs = 1 } = {}) {
  const store = memoryStore();
  const failures: string[][] = [];
  const log = new Log({
    store,
    limits: { batchMs },
    onFailure: (_error, boards) => failures.push([...boards]),
  });
  return { store, failures, log, desk: (id: string) => new Desk(id, log) };
}

describe('the log', () => {
  it('R7 commits what many rooms write in one turn at once', async () => {
    const { store, log, desk } = setUp();
    const [a, b] = [desk('a'), desk('b')];
    a.write(1);
    b.write(2);
    a.write(3);
    await log.idle();
    expect(store.commits).toEqual([{ boards: ['a', 'b'], numbers: [1, 3, 2] }]);
    expect([a.durable, b.durable]).toEqual([[1, 3], [2]]);
  });

  it('R7 lets out what else was said in the turn before it puts the commit together', async () => {
    const told: string[] = [];
    const store = memoryStore();
    const log = new Log({
      store,
      limits: { batchMs: 0 },
      onFailure: () => undefined,
      onTurn: () => told.push('presence'),
    });
    const desk = new Desk('a', log);
    const { gather } = desk;
    desk.gather = () => {
      told.push('gather');
      return gather.call(desk);
    };
    desk.write(1);
    await log.idle();
    expect(told).toEqual(['presence', 'gather']);
  });

  it('R5 tells whoever waits when a commit is not answered for long, those too who come meanwhile', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    try {
      const { store, log, desk } = setUp();
      const [a, b, idle] = [desk('a'), desk('b'), desk('c')];
      const release = store.hold();
      a.write(1);
      while (store.mostUnderWay === 0) await new Promise(setImmediate);
      vi.advanceTimersByTime(behindAfterMs - 1);
      expect(a.behindTimes).toBe(0);
      b.write(2);
      vi.advanceTimersByTime(1);
      expect([a, b, idle].map(({ behindTimes }) => behindTimes)).toEqual([1, 1, 0]);
      release();
      await log.idle();
      vi.advanceTimersByTime(10 * behindAfterMs);
      expect([a, b].map(({ behindTimes }) => behindTimes)).toEqual([1, 1]);
      expect([a.durable, b.durable]).toEqual([[1], [2]]);
    } finally {
      vi.useRealTimers();
    }
  });

  it('R7 after a commit of many updates the next one waits, and gathers; who is alone is not held', async () => {
    const { store, log, desk } = setUp({ batchMs: 1_200 });
    const [a, b] = [desk('a'), desk('b')];
    const settled = async (count: number): Promise<void> => {
      while (store.commits.length < count) await new Promise(setImmediate);
    };
    let begun = performance.now();
    const sinceBegun = (): number => performance.now() - begun;
    a.write(1);
    await settled(1);
    b.write(2);
    await settled(2);
    expect(sinceBegun()).toBeLessThan(1_000);
    await log.idle();

    begun = performance.now();
    for (let n = 0; n < 20; n++) a.write(n);
    await settled(3);
    b.write(3);
    await new Promise((resolve) => setTimeout(resolve, 50));
    a.write(4);
    await settled(4);
    expect(sinceBegun()).toBeGreaterThan(1_190);
    expect(store.commits.at(-1)?.numbers).toEqual([3, 4]);
  });

  it('R3 keeps one commit under way and the order of each room', async () => {
    const { store, log, desk } = setUp();
    const a = desk('a');
    const release = store.hold();
    a.write(1);
    for (let n = 2; n <= 40; n++) {
      await new Promise(setImmediate);
      a.write(n);
    }
    expect(a.durable).toEqual([]);
    release();
    await log.idle();
    expect(a.durable).toEqual(Array.from({ length: 40 }, (_, i) => i + 1));
    expect(store.commits.flatMap(({ numbers }) => numbers)).toEqual(a.durable);
    expect(store.mostUnderWay).toBe(1);
  });

  it('R5 tries again until the store is back, in order and without doubling', async () => {
    const { store, failures, log, desk } = setUp();
    const desks = ['a', 'b', 'c', 'd', 'e'].map(desk);
    store.faults.away = true;
    for (const each of desks) each.write(1);
    await expect.poll(() => failures.length).toBeGreaterThan(4);
    for (const each of desks) each.write(2);
    expect(desks.every(({ durable }) => durable.length === 0)).toBe(true);
    expect(desks.some(({ behindTimes }) => behindTimes > 0)).toBe(true);
    store.faults.away = false;
    await log.idle();
    for (const each of desks) expect(each.durable).toEqual([1, 2]);
    expect(store.commits.flatMap(({ numbers }) => numbers)).toHaveLength(10);
  });

  it('R7 a board that the store takes amiss holds up no other, and goes on when it is mended', async () => {
    const { store, log, desk } = setUp();
    const [bad, good] = [desk('bad'), desk('good')];
    store.faults.poison.add('bad');
    bad.write(1);
    good.write(1);
    await expect.poll(() => good.durable).toEqual([1]);
    for (let n = 2; n <= 5; n++) {
      bad.write(n);
      good.write(n);
      await expect.poll(() => good.durable.at(-1)).toBe(n);
    }
    expect(bad.durable).toEqual([]);
    store.faults.poison.clear();
    await log.idle();
    expect(bad.durable).toEqual([1, 2, 3, 4, 5]);
  });

  it('R7 a board that was deleted is told so and holds up no other', async () => {
    const { store, log, desk } = setUp();
    const [deleted, good] = [desk('deleted'), desk('good')];
    store.faults.deleted.add('deleted');
    deleted.write(1);
    good.write(1);
    await log.idle();
    expect([deleted.isGone, good.isGone, good.durable]).toEqual([true, false, [1]]);
  });

  it('R100 a board whose log another server has moved on is told so, and its order is kept', async () => {
    const { store, log, desk } = setUp();
    const [late, good] = [desk('late'), desk('good')];
    store.faults.overtaken.add('late');
    late.write(1);
    good.write(1);
    late.write(2);
    await log.idle();
    expect([late.staleTimes, late.durable, good.durable]).toEqual([1, [1, 2], [1]]);
    expect(store.commits).toEqual([
      { boards: ['good'], numbers: [1] },
      { boards: ['late'], numbers: [1, 2] },
    ]);
  });

  it('R90 stops at once when told to, though the store is away', async () => {
    const { store, log, desk } = setUp();
    store.faults.away = true;
    const a = desk('a');
    a.write(1);
    await expect.poll(() => a.behindTimes).toBeGreaterThan(0);
    log.stop();
    await log.idle();
    expect(a.durable).toEqual([]);
  });

  it('R5 commits what is accepted in the very moment in which it comes to rest', async () => {
    // Whoever waited for his commit may go on within the same turn of the loop, so many steps later.
    for (let steps = 0; steps < 24; steps++) {
      const store = memoryStore();
      const log = new Log({ store, limits: { batchMs: 0 }, onFailure: () => undefined });
      const desk = new Desk('a', log);
      const { committed } = desk;
      let wrote = false;
      desk.committed = async () => {
        committed.call(desk);
        if (wrote) return;
        wrote = true;
        for (let step = 0; step < steps; step++) await null;
        desk.write(2);
      };
      desk.write(1);
      for (let turn = 0; turn < 5; turn++) await new Promise(setImmediate);
      await log.idle();
      expect({ steps, durable: desk.durable }).toEqual({ steps, durable: [1, 2] });
    }
  });
});
