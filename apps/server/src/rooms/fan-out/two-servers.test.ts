import { createBoardState } from '@stemline/board/create';
import { BoardDocument } from '@stemline/board/document';
import { newDocument } from '@stemline/board/schema';
import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Background } from '../background.ts';
import { BoardState, type Commit } from '../board-state.ts';
import { roomLimits } from '../limits.ts';
import { Log } from '../log.ts';
import type { Appended, BoardAppend, Newer, StoredUpdate } from '../store.ts';

type Outcome = 'commit' | 'fail' | 'lost';
type Step =
  | { do: 'move' | 'remove' | 'return'; coach: number; value: number }
  | { do: 'answer'; server: number; outcome: Outcome }
  /** What becomes of the messages of other servers that wait at this one. */
  | { do: 'bus'; server: number; how: 'next' | 'last' | 'twice' | 'drop' }
  | { do: 'look' | 'rest'; server: number };

const servers = 2;
const coaches = 4;
const server = fc.nat(servers - 1);
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      do: fc.constantFrom('move' as const, 'move' as const, 'remove' as const, 'return' as const),
      coach: fc.nat(coaches - 1),
      value: fc.integer({ min: 0, max: 20 }),
    }),
  },
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constant('answer' as const),
      server,
      outcome: fc.constantFrom<Outcome>('commit', 'commit', 'commit', 'fail', 'lost'),
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      do: fc.constant('bus' as const),
      server,
      how: fc.constantFrom('next' as const, 'next' as const, 'last', 'twice', 'drop'),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('look' as const), server }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('rest' as const), server }) },
);

/** One log for all servers, with the promises of append-sql.ts. */
class Store {
  readonly rows: StoredUpdate[];
  readonly clients = new Map<number, string>();
  revision = 0;

  constructor(first: Uint8Array) {
    this.rows = [{ id: 1n, bytes: first }];
  }

  commit({ base, updates, clients }: BoardAppend): Appended {
    if (base !== this.revision) return 'stale';
    // Ids have gaps: other boards draw from the same sequence.
    for (const { bytes } of updates) this.rows.push({ id: this.last + 3n, bytes });
    for (const [id, member] of clients) if (!this.clients.has(id)) this.clients.set(id, member);
    this.revision += 1;
    return { last: this.last, revision: this.revision };
  }

  get last(): bigint {
    return this.rows.at(-1)?.id ?? 0n;
  }

  newer(after: bigint): Newer {
    const { revision, clients } = this;
    return {
      revision,
      packings: 0,
      updates: this.rows.filter(({ id }) => id > after),
      clients,
      authors: new Map(),
    };
  }

  /** The board, and how many rows brought nothing that was not there. */
  replay(): { ydoc: Y.Doc; idle: number } {
    const ydoc = newDocument();
    let told = 0;
    ydoc.on('update', () => {
      told += 1;
    });
    let idle = 0;
    for (const { bytes } of this.rows) {
      const before = told;
      Y.applyUpdate(ydoc, bytes);
      if (told === before) idle += 1;
    }
    return { ydoc, idle };
  }
}

interface Coach {
  name: string;
  ydoc: Y.Doc;
  board: BoardDocument;
  at: number;
  inbox: Uint8Array[];
  offered: number;
  durable: number;
  /** While his server looks at the store, as a room holds a connection. */
  held: Uint8Array[] | null;
}

class Server {
  readonly board: BoardState<Coach>;
  readonly log: Log;
  readonly bus: Commit[] = [];
  readonly here: Coach[] = [];
  readonly background = new Background(() => undefined);
  #answer: ((outcome: Outcome) => void) | null = null;

  constructor(
    store: Store,
    first: Uint8Array,
    tell: (commit: Commit) => void,
    readonly waits: () => void,
    turnMs: number,
  ) {
    const append = async ([one]: readonly BoardAppend[]) => {
      const outcome = await new Promise<Outcome>((resolve) => {
        this.#answer = resolve;
      });
      if (!one || outcome === 'fail') throw new Error('fails on purpose');
      const appended = store.commit(one);
      if (outcome === 'lost') throw new Error('answered to nobody');
      return new Map([['board', appended]]);
    };
    this.log = new Log({
      store: { append },
      limits: { batchMs: 0 },
      onFailure: () => undefined,
    });
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, first);
    this.board = new BoardState<Coach>(
      {
        boardId: 'board',
        ydoc,
        revision: 0,
        last: 1n,
        packings: 0,
        packing: null,
        line: { name: '', concept: '', formation: '' },
        clients: new Map([[1, null]]),
        authors: new Map(),
      },
      {
        log: this.log,
        limits: { ...roomLimits, turnMs },
        store: { newer: async (_board, after) => store.newer(after) },
        background: this.background,
        present: () => null,
        onFault: (error) => {
          throw error;
        },
        onUse: () => undefined,
        now: () => new Date(0),
        listener: {
          committed: (_origins, bytes) => {
            for (const coach of this.here) coach.inbox.push(bytes);
          },
          durable: (origins, change) => {
            for (const origin of origins) origin.durable += 1;
            if (change?.commit) tell(change.commit);
            else if (change) for (const coach of this.here) coach.inbox.push(change.bytes);
          },
          refused: (_origin, _update, { why }) => expect.fail(`refused: ${why}`),
          scattered: () => {
            throw new Error('nothing was accepted together');
          },
          sourceOf: (origin) => origin,
          behind: () => undefined,
          gone: () => expect.fail('gone'),
          waits: () => this.waits(),
          broken: () => expect.fail('broken'),
        },
      },
    );
  }

  async answer(outcome: Outcome): Promise<void> {
    for (let turn = 0; turn < 6 && !this.#answer; turn++) await new Promise(setImmediate);
    const answer = this.#answer;
    this.#answer = null;
    answer?.(outcome);
    await new Promise(setImmediate);
    await this.background.settled();
  }

  hear(how: Extract<Step, { do: 'bus' }>['how']): void {
    const message = how === 'last' ? this.bus.pop() : this.bus.shift();
    if (!message || how === 'drop') return;
    this.board.hear(message);
    if (how === 'twice') this.board.hear(message);
  }
}

interface Counts {
  /** Of what the coaches of each server wrote, how much is durable when the steps are over. */
  durable: readonly number[];
  commits: number;
  /** Rows that a lost answer or a race could have written twice, and did not. */
  idle: number;
  /** Times a server was asked for what only the other had yet. */
  behind: number;
  rests: number;
}

async function play(steps: readonly Step[], turnMs = 5): Promise<Counts> {
  const first = createBoardState(handPlay());
  const store = new Store(first);
  const all: Server[] = [];
  for (let i = 0; i < servers; i++) {
    const others = (): Server[] => all.filter((other) => other !== one);
    const one: Server = new Server(
      store,
      first,
      (commit) => {
        for (const { bus } of others()) bus.push(commit);
      },
      () => {
        for (const { board } of others()) board.leaveTurn({ isOlder: i === 0 });
      },
      turnMs,
    );
    all.push(one);
  }
  const everybody = Array.from({ length: coaches }, (_, i): Coach => {
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, first);
    const coach: Coach = {
      name: `coach ${i}`,
      ydoc,
      board: new BoardDocument(ydoc),
      at: i % servers,
      inbox: [],
      offered: 0,
      durable: 0,
      held: null,
    };
    all[coach.at]?.here.push(coach);
    ydoc.on('update', (update: Uint8Array, _origin: unknown, _doc, { local }: Y.Transaction) => {
      if (local) offer(coach, update);
    });
    return coach;
  });
  const serverOf = (coach: Coach): Server => all[coach.at] as Server;
  const counts = { behind: 0, rests: 0 };
  /** Only who is behind the store refuses an honest coach, and he looks before he does. */
  function offer(coach: Coach, update: Uint8Array): void {
    if (coach.held) {
      coach.held.push(update);
      return;
    }
    const sender = { memberId: coach.name, name: coach.name, scope: { kind: 'all' as const } };
    const { board } = serverOf(coach);
    if (board.offer(update, sender, coach)) {
      counts.behind += 1;
      coach.held = [];
      void board.catchingUp.now().then(() => {
        expect(board.offer(update, sender, coach)).toBeNull();
        coach.offered += 1;
        const held = coach.held ?? [];
        coach.held = null;
        for (const one of held) offer(coach, one);
      });
      return;
    }
    coach.offered += 1;
  }

  const take = async (one: Step): Promise<void> => {
    switch (one.do) {
      case 'answer':
        return (all[one.server] as Server).answer(one.outcome);
      case 'bus':
        return (all[one.server] as Server).hear(one.how);
      case 'look': {
        const { board, background } = all[one.server] as Server;
        board.catchingUp.heard(store.revision);
        return background.settled();
      }
      case 'rest': {
        const { board } = all[one.server] as Server;
        if (board.rest()) counts.rests += 1;
        break;
      }
      case 'move': {
        const coach = everybody[one.coach] as Coach;
        for (const update of coach.inbox.splice(0)) Y.applyUpdate(coach.ydoc, update);
        coach.board.movePlayer(asPlayerId('H'), [one.value, -1.2 - one.coach / 10]);
        break;
      }
      case 'remove':
        everybody[one.coach]?.board.removePlayer(
          asPlayerId(['F', 'Y', 'X', 'Z'][one.value % 4] ?? 'F'),
        );
        break;
      case 'return': {
        // To the other server, with what only he has; what he was not told is saved he sends again.
        const coach = everybody[one.coach] as Coach;
        if (coach.held) break;
        serverOf(coach).here.splice(serverOf(coach).here.indexOf(coach), 1);
        coach.inbox = [];
        coach.at = (coach.at + 1) % servers;
        const { board, here } = serverOf(coach);
        here.push(coach);
        Y.applyUpdate(coach.ydoc, board.durable.answerTo(Y.encodeStateVector(coach.ydoc)), 'room');
        offer(coach, Y.encodeStateAsUpdate(coach.ydoc, board.stateVector));
      }
    }
  };

  for (const coach of everybody) coach.board.setConcept(coach.name);
  for (const one of steps) {
    await take(one);
    const { ydoc: stored } = store.replay();
    expect(stored.store.pendingStructs).toBeNull();
    expect(stored.store.pendingDs).toBeNull();
    const held = Y.decodeStateVector(Y.encodeStateVector(stored));
    for (const { board } of all) {
      for (const [client, clock] of Y.decodeStateVector(board.stateVector))
        expect(held.get(client) ?? 0).toBeGreaterThanOrEqual(clock);
    }
  }
  const durable = all.map(({ here }) => here.reduce((sum, coach) => sum + coach.durable, 0));
  const deadline = performance.now() + 20_000;
  const isOver = (): boolean =>
    all.every(({ board }) => board.isSettled) && everybody.every(({ held }) => held === null);
  while (!isOver()) {
    if (performance.now() > deadline) throw new Error('something accepted never becomes durable');
    for (const one of all) await one.answer('commit');
  }
  // The bus may have said nothing at all: whoever looks, has everything.
  for (const { board, background } of all) {
    board.catchingUp.heard(store.revision);
    await background.settled();
  }
  const { ydoc: stored, idle } = store.replay();
  const state = Y.encodeStateAsUpdate(stored);
  for (const { board, log } of all) {
    expect(Y.encodeStateAsUpdate(board.durable.ydoc)).toEqual(state);
    expect(board.revision).toBe(store.revision);
    log.stop();
  }
  for (const coach of everybody) {
    for (const update of coach.inbox.splice(0)) Y.applyUpdate(coach.ydoc, update);
    expect(Y.encodeStateAsUpdate(coach.ydoc)).toEqual(state);
    expect(coach.durable).toBe(coach.offered);
  }
  return { ...counts, durable, commits: store.revision, idle };
}

describe('two servers on one log, with a bus that loses, doubles and swaps', () => {
  it('R89 R100 R101 R102 hold after every step, everybody ends on what is stored, and nothing is written twice', async () => {
    let commits = 0;
    let rests = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 10, maxLength: 60 }), async (steps) => {
        const run = await play(steps);
        commits += run.commits;
        rests += run.rests;
        expect(run.idle).toBe(0);
      }),
      { numRuns: 80 },
    );
    expect(commits).toBeGreaterThan(120);
    expect(rests).toBeGreaterThan(0);
  }, 120_000);

  it('R111 the one that is always a little slower gets its turn', async () => {
    // Both write; the first is always answered first, and the second hears of it before its own answer.
    const round = (value: number): Step[] => [
      { do: 'move', coach: 0, value },
      { do: 'move', coach: 1, value },
      { do: 'answer', server: 0, outcome: 'commit' },
      { do: 'bus', server: 1, how: 'next' },
      { do: 'answer', server: 1, outcome: 'commit' },
      { do: 'bus', server: 0, how: 'next' },
    ];
    const patientMs = 3_000;
    const run = await play(Array.from({ length: 20 }, (_, i) => round(i)).flat(), patientMs);
    expect(run.durable[0]).toBeGreaterThan(10);
    expect(run.durable[1]).toBeGreaterThan(10);
    expect(run.idle).toBe(0);
  });

  it('R101 takes from a coach who moves to a server that is behind what a colleague wrote on the other one', async () => {
    const commit: Step = { do: 'answer', server: 0, outcome: 'commit' };
    const run = await play([
      commit,
      commit,
      // The second server knows the colleague, but not what he writes next.
      { do: 'answer', server: 1, outcome: 'commit' },
      { do: 'look', server: 1 },
      { do: 'answer', server: 1, outcome: 'commit' },
      { do: 'move', coach: 2, value: 7 },
      commit,
      commit,
      { do: 'move', coach: 0, value: 9 },
      { do: 'return', coach: 0, value: 0 },
    ]);
    expect(run.behind).toBe(1);
    expect(run.idle).toBe(0);
  });

  it('R101 takes it too when that server has heard the first of what the colleague wrote, and not the rest', async () => {
    const commit: Step = { do: 'answer', server: 0, outcome: 'commit' };
    const run = await play([
      { do: 'answer', server: 1, outcome: 'commit' },
      // Overtaken, read, and written: the colleague's first edit, then another in a commit of its own.
      commit,
      commit,
      { do: 'move', coach: 2, value: 7 },
      commit,
      commit,
      { do: 'move', coach: 0, value: 9 },
      { do: 'return', coach: 0, value: 0 },
      { do: 'bus', server: 1, how: 'next' },
    ]);
    expect(run.idle).toBe(0);
  });
});
