import { createBoardState } from '@stemline/board/create';
import { newDocument } from '@stemline/board/schema';
import { handPlay } from '@stemline/testkit/plays';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { Background } from './background.ts';
import { BoardState } from './board-state.ts';
import { roomLimits } from './limits.ts';
import { Log } from './log.ts';
import type { BoardAppend, Newer, StoredUpdate } from './store.ts';

const first = createBoardState(handPlay());

/** Pages of two members, which wrote on each other's words while nobody reached the room. */
function offers() {
  const [ann, ben] = [newDocument(101), newDocument(102)];
  for (const ydoc of [ann, ben]) Y.applyUpdate(ydoc, first);
  const turns = [ann, ben, ann, ben];
  for (const [at, ydoc] of turns.entries()) {
    ydoc.getMap('spots').set('H', [at, -1]);
    for (const other of [ann, ben]) Y.applyUpdate(other, Y.encodeStateAsUpdate(ydoc));
  }
  const offer = (memberId: string, ydoc: Y.Doc) => ({
    update: Y.encodeStateAsUpdate(ydoc, Y.encodeStateVectorFromUpdate(first)),
    sender: { memberId, name: memberId, scope: { kind: 'all' as const } },
    origin: memberId,
  });
  return [offer('ann', ann), offer('ben', ben)] as const;
}

/** A board whose first append finds that another server was first with `other`, whose client id is `whose`. */
function boardWhere(other: Uint8Array, whose: readonly [number, string]) {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, first);
  const told = {
    committed: [] as string[],
    durable: [] as string[],
    scattered: [] as string[],
    refused: vi.fn(),
  };
  const appends: BoardAppend[] = [];
  const background = new Background(() => undefined);
  const rows: StoredUpdate[] = [{ id: 3n, bytes: other }];
  const log = new Log({
    store: {
      append: async ([one]: readonly BoardAppend[]) => {
        if (!one) throw new Error('nothing to append');
        if (one.base === 0) return new Map([['board', 'stale' as const]]);
        appends.push(one);
        return new Map([['board', { last: 5n, revision: 2 }]]);
      },
    },
    limits: { batchMs: 0 },
    onFailure: (error) => {
      throw error;
    },
  });
  const board = new BoardState<string>(
    {
      boardId: 'board',
      ydoc,
      revision: 0,
      last: 1n,
      packings: 0,
      packing: null,
      line: { name: '', concept: '', formation: '' },
      clients: new Map([
        [1, null],
        [101, 'ann'],
        [102, 'ben'],
      ]),
      authors: new Map(),
    },
    {
      log,
      limits: roomLimits,
      store: {
        newer: async (_board, after): Promise<Newer> => ({
          revision: 1,
          packings: 0,
          updates: rows.filter(({ id }) => id > after),
          clients: new Map([whose]),
          authors: new Map(),
        }),
      },
      background,
      present: () => null,
      onFault: (error) => {
        throw error;
      },
      onUse: () => undefined,
      now: () => new Date(0),
      listener: {
        committed: (origins) => told.committed.push(...origins),
        durable: (origins) => told.durable.push(...origins),
        refused: told.refused,
        scattered: (origins) => told.scattered.push(...origins),
        sourceOf: (origin) => ({ origin }),
        behind: () => undefined,
        gone: () => undefined,
        waits: () => undefined,
        broken: () => undefined,
      },
    },
  );
  return { board, told, appends, log };
}

/** What somebody wrote at the other server. */
function elsewhere(key: string): Uint8Array {
  const ydoc = newDocument(303);
  Y.applyUpdate(ydoc, first);
  ydoc.getMap('spots').set(key, [7, -1]);
  return Y.encodeStateAsUpdate(ydoc, Y.encodeStateVectorFromUpdate(first));
}

describe('R101 R112 what was accepted together, when another server was first', () => {
  it('is judged together again, written once, and durable for each of its makers', async () => {
    const { board, told, appends } = boardWhere(elsewhere('X'), [303, 'cat']);
    expect(board.offerTogether(offers())).toBeNull();
    await board.settled();
    expect(told).toMatchObject({
      committed: ['ann', 'ben'],
      durable: ['ann', 'ben'],
      scattered: [],
    });
    expect(appends.map(({ updates }) => updates.length)).toEqual([1]);
    expect(appends[0]?.authors.get('spots/H')?.memberId).toBe('ben');
    expect([...(appends[0]?.clients ?? [])]).toEqual([
      [101, 'ann'],
      [102, 'ben'],
    ]);
    expect(board.durable.ydoc.getMap('spots').get('H')).toEqual([3, -1]);
    expect(board.durable.ydoc.getMap('spots').get('X')).toEqual([7, -1]);
  });

  it('sends all its makers away to bring it again when it does not fit any more', async () => {
    // The other server knows ben's client id as somebody else's.
    const { board, told, appends } = boardWhere(elsewhere('X'), [102, 'cat']);
    expect(board.offerTogether(offers())).toBeNull();
    await board.settled();
    expect(told).toMatchObject({ durable: [], scattered: ['ann', 'ben'] });
    expect(told.refused).not.toHaveBeenCalled();
    expect(appends).toEqual([]);
  });
});
