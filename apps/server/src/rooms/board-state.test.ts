import { createBoardState } from '@stemline/board/create';
import { BoardDocument } from '@stemline/board/document';
import { newDocument } from '@stemline/board/schema';
import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { Background } from './background.ts';
import { BoardState } from './board-state.ts';
import { roomLimits } from './limits.ts';
import { Log } from './log.ts';
import type { Appended, BoardAppend } from './store.ts';

type Step =
  | { do: 'edit' | 'delete' | 'hear' | 'return' | 'forge'; coach: number; value: number }
  | { do: 'commit' | 'fail' | 'rest' };

const coaches = 3;
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constantFrom('edit' as const, 'hear' as const),
      coach: fc.nat(coaches - 1),
      value: fc.integer({ min: -20, max: 20 }),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constantFrom('delete' as const, 'return' as const, 'forge' as const),
      coach: fc.nat(coaches - 1),
      value: fc.nat(10),
    }),
  },
  { weight: 3, arbitrary: fc.record({ do: fc.constantFrom('commit' as const, 'fail' as const) }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('rest' as const) }) },
);

/** A store whose every append waits to be let through or failed. */
class Gateway {
  readonly rows: Uint8Array[];
  revision = 0;
  #answer: ((succeeds: boolean) => void) | null = null;

  constructor(first: Uint8Array) {
    this.rows = [first];
  }

  async append([board]: readonly BoardAppend[]): Promise<ReadonlyMap<string, Appended>> {
    const succeeds = await new Promise<boolean>((resolve) => {
      this.#answer = resolve;
    });
    if (!succeeds) throw new Error('fails on purpose');
    this.rows.push(...(board?.updates.map(({ bytes }) => bytes) ?? []));
    this.revision += 1;
    return new Map([['board', { last: BigInt(this.rows.length), revision: this.revision }]]);
  }

  /** Lets the append that waits through, if there is one, and what follows from it happen. */
  async answer(succeeds: boolean): Promise<void> {
    for (let turn = 0; turn < 4 && !this.#answer; turn++) await new Promise(setImmediate);
    this.#answer?.(succeeds);
    this.#answer = null;
    await new Promise(setImmediate);
  }

  replay(): Y.Doc {
    const ydoc = newDocument();
    for (const row of this.rows) Y.applyUpdate(ydoc, row);
    return ydoc;
  }
}

const has = (ydoc: Y.Doc, update: Uint8Array): boolean =>
  [...Y.parseUpdateMeta(update).to].every(([id, clock]) => Y.getState(ydoc.store, id) >= clock);

class Coach {
  ydoc: Y.Doc;
  board: BoardDocument;
  /** Broadcast and not yet applied. */
  inbox: Uint8Array[] = [];
  offered = 0;
  durable = 0;

  constructor(
    readonly name: string,
    state: Uint8Array,
  ) {
    this.ydoc = newDocument();
    Y.applyUpdate(this.ydoc, state);
    this.board = new BoardDocument(this.ydoc);
  }

  hear(): void {
    for (const update of this.inbox.splice(0)) Y.applyUpdate(this.ydoc, update);
  }
}

async function play(
  steps: readonly Step[],
): Promise<{ refused: number; committed: number; rests: number }> {
  const first = createBoardState(handPlay());
  const store = new Gateway(first);
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, first);
  const everybody = Array.from({ length: coaches }, (_, i) => new Coach(`coach ${i}`, first));
  let refused = 0;
  let rests = 0;
  const log = new Log({ store, limits: { batchMs: 0 }, onFailure: () => undefined });
  const board = new BoardState<Coach>(
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
      log,
      limits: roomLimits,
      store: { newer: () => Promise.reject(new Error('nobody else writes')) },
      background: new Background(() => undefined),
      present: () => null,
      onFault: (error) => {
        throw error;
      },
      onUse: () => undefined,
      now: () => new Date(0),
      listener: {
        committed(origins, bytes) {
          // In the store, whoever made it has not been told, and nobody but the store has it.
          for (const origin of origins) expect(origin.durable).toBeLessThan(origin.offered);
          expect(has(store.replay(), bytes)).toBe(true);
          for (const coach of everybody) coach.inbox.push(bytes);
        },
        durable(origins, change) {
          for (const origin of origins) origin.durable += 1;
          if (change) expect(has(board.durable.ydoc, change.bytes)).toBe(true);
        },
        refused: () => expect.fail('refused after it was accepted'),
        scattered: () => {
          throw new Error('nothing was accepted together');
        },
        sourceOf: (origin) => origin,
        behind: () => undefined,
        gone: () => undefined,
        waits: () => undefined,
        broken: () => undefined,
      },
    },
  );
  const offer = (coach: Coach, update: Uint8Array): void => {
    const refusal = board.offer(
      update,
      { memberId: coach.name, name: coach.name, scope: { kind: 'all' } },
      coach,
    );
    expect(refusal).toBeNull();
    coach.offered += 1;
  };
  for (const coach of everybody) watch(coach, offer);

  const take = async (one: Step): Promise<void> => {
    if (one.do === 'rest') {
      const isResting = board.rest();
      expect(isResting).toBe(board.isSettled);
      if (isResting) rests += 1;
      return;
    }
    if (!('coach' in one)) return store.answer(one.do === 'commit');
    const coach = everybody[one.coach] as Coach;
    const other = everybody[(one.coach + 1) % coaches] as Coach;
    switch (one.do) {
      case 'edit':
        coach.board.movePlayer(asPlayerId('H'), [one.value, -1.2]);
        break;
      case 'delete':
        coach.board.removePlayer(asPlayerId(['F', 'Y', 'X', 'Z'][one.value % 4] ?? 'F'));
        break;
      case 'hear':
        coach.hear();
        break;
      case 'return': {
        // A new connection: sync in both directions, and whatever was on its way to him is in the answer.
        coach.inbox = [];
        Y.applyUpdate(coach.ydoc, board.durable.answerTo(Y.encodeStateVector(coach.ydoc)), 'room');
        offer(coach, Y.encodeStateAsUpdate(coach.ydoc, board.stateVector));
        break;
      }
      case 'forge': {
        const forger = newDocument();
        Y.applyUpdate(forger, Y.encodeStateAsUpdate(other.ydoc));
        forger.clientID = other.ydoc.clientID;
        const before = Y.encodeStateVector(forger);
        forger.getMap('meta').set('name', 'Forged');
        const refusal = board.offer(
          Y.encodeStateAsUpdate(forger, before),
          { memberId: coach.name, name: coach.name, scope: { kind: 'all' } },
          coach,
        );
        expect(refusal).not.toBeNull();
        refused += 1;
      }
    }
  };

  const sumOf = (what: 'offered' | 'durable'): number =>
    everybody.reduce((sum, coach) => sum + coach[what], 0);
  /** Who waits until everything accepted by then is durable, whatever comes later. */
  const waiting: { upTo: number; isTold: boolean }[] = [];

  // Everybody has written once, so that his id is known to be his.
  for (const coach of everybody) coach.board.setName(coach.name);
  for (const one of steps) {
    await take(one);
    const waits = { upTo: sumOf('offered'), isTold: false };
    waiting.push(waits);
    void board.settled().then(() => {
      waits.isTold = true;
    });
    await new Promise(setImmediate);
    for (const { upTo, isTold } of waiting) expect(isTold).toBe(sumOf('durable') >= upTo);
    const stored = store.replay();
    expect(stored.store.pendingStructs).toBeNull();
    const held = Y.decodeStateVector(Y.encodeStateVector(stored));
    for (const [client, clock] of Y.decodeStateVector(board.stateVector)) {
      // R2: whatever leaves the room is read from here, and is stored.
      expect(held.get(client) ?? 0).toBeGreaterThanOrEqual(clock);
    }
    for (const coach of everybody) expect(coach.durable).toBeLessThanOrEqual(coach.offered);
  }
  while (!board.isSettled) await store.answer(true);
  for (const coach of everybody) coach.hear();
  const stored = Y.encodeStateAsUpdate(store.replay());
  for (const coach of everybody) {
    expect(coach.durable).toBe(coach.offered);
    expect(Y.encodeStateAsUpdate(coach.ydoc)).toEqual(stored);
  }
  expect(Y.encodeStateAsUpdate(board.durable.ydoc)).toEqual(stored);
  log.stop();
  return { refused, committed: store.rows.length, rests };
}

/** Whatever a coach writes himself is offered at once. */
function watch(coach: Coach, offer: (coach: Coach, update: Uint8Array) => void): void {
  coach.ydoc.on(
    'update',
    (update: Uint8Array, _origin: unknown, _doc: Y.Doc, { local }: Y.Transaction) => {
      if (local) offer(coach, update);
    },
  );
}

describe('a board between accepted and durable', () => {
  it('R2 R3 R5 R33 R37 R89 R91 holds its promises after every step, and everybody ends on what is stored', async () => {
    let refused = 0;
    let committed = 0;
    let rests = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 40 }), async (steps) => {
        const run = await play(steps);
        refused += run.refused;
        committed += run.committed;
        rests += run.rests;
      }),
      { numRuns: 60 },
    );
    expect(refused).toBeGreaterThan(10);
    expect(committed).toBeGreaterThan(200);
    expect(rests).toBeGreaterThan(0);
  }, 120_000);
});
