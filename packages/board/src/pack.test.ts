import { handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import { isWorthPacking, mayBeWorthPacking, pack } from './pack.ts';
import { fitPacked, lags, type Packing, packingOf } from './packed.ts';
import { project } from './project.ts';
import { newDocument, rootsOf } from './schema.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

/** Few keys, so that coaches meet on them; nobody has set the last one yet. */
const keys = ['H', 'X', 'new'] as const;
const coaches = 4;

type Step =
  | { do: 'set'; who: number; key: number; value: number }
  | { do: 'remove'; who: number; key: number }
  | { do: 'undo' | 'redo'; who: number }
  | { do: 'type'; who: number; at: number; text: string }
  | { do: 'erase'; who: number; at: number }
  /** `from` gets what it lacks of `to`'s document. */
  | { do: 'sync'; who: number; from: number };

const who = fc.nat(coaches - 1);
const key = fc.nat(keys.length - 1);
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ do: fc.constant('set' as const), who, key, value: fc.nat(99) }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('remove' as const), who, key }) },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constantFrom('undo' as const, 'redo' as const), who }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('type' as const),
      who,
      at: fc.nat(9),
      text: fc.constantFrom('out', 'sit', 'in'),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('erase' as const), who, at: fc.nat(9) }) },
  { weight: 5, arbitrary: fc.record({ do: fc.constant('sync' as const), who, from: who }) },
);
const steps = (maxLength: number) => fc.array(step, { maxLength, size: 'max' });

interface Replica {
  readonly ydoc: Y.Doc;
  readonly undo: Y.UndoManager;
}

function replica(state: Uint8Array, clientId: number): Replica {
  const ydoc = newDocument(clientId);
  Y.applyUpdate(ydoc, state);
  // Yjs' own, which holds on to items: a plain editor may use it.
  const undo = new Y.UndoManager(Object.values(rootsOf(ydoc).maps), {
    captureTimeout: 0,
    trackedOrigins: new Set(['hand']),
  });
  return { ydoc, undo };
}

const end = ({ ydoc, undo }: Replica): void => {
  undo.destroy();
  ydoc.destroy();
};

const stateOf = (ydoc: Y.Doc): Uint8Array => Y.encodeStateAsUpdate(ydoc);
const pull = (to: Y.Doc, from: Y.Doc): void =>
  Y.applyUpdate(to, Y.encodeStateAsUpdate(from, Y.encodeStateVector(to)));

function at<T>(all: readonly T[], index: number): T {
  const found = all[index];
  if (found === undefined) throw new Error('nobody there');
  return found;
}

function take(replicas: readonly Replica[], step: Step): void {
  const { ydoc, undo } = at(replicas, step.who);
  const { maps, notes } = rootsOf(ydoc);
  switch (step.do) {
    case 'set':
      ydoc.transact(() => maps.spots.set(at(keys, step.key), step.value), 'hand');
      return;
    case 'remove':
      ydoc.transact(() => maps.spots.delete(at(keys, step.key)), 'hand');
      return;
    case 'undo':
      undo.undo();
      return;
    case 'redo':
      undo.redo();
      return;
    case 'type':
      notes.insert(Math.min(step.at, notes.length), [new Y.XmlText(step.text)]);
      return;
    case 'erase':
      if (notes.length > 0) notes.delete(step.at % notes.length, 1);
      return;
    case 'sync':
      pull(ydoc, at(replicas, step.from).ydoc);
  }
}

function syncAll(ydocs: readonly Y.Doc[]): void {
  for (let round = 0; round < 2; round++)
    for (const to of ydocs) for (const from of ydocs) if (to !== from) pull(to, from);
}

/** What a board says, and which ids it knows and holds for deleted. */
function told(ydoc: Y.Doc): unknown {
  const { maps, notes } = rootsOf(ydoc);
  const deleted = Y.createDeleteSetFromStructStore(ydoc.store).clients;
  return {
    values: Object.entries(maps).map(([root, map]) => [root, map.toJSON()]),
    notes: notes.toString(),
    vector: [...Y.decodeStateVector(Y.encodeStateVector(ydoc))].sort(([a], [b]) => a - b),
    deleted: [...deleted].sort(([a], [b]) => a - b),
  };
}

/** Client ids in every order, since yjs decides by them. */
const clientIds = fc.uniqueArray(fc.integer({ min: 10, max: 1_000 }), {
  minLength: 3 * coaches,
  maxLength: 3 * coaches,
});

describe('a packed board', () => {
  it('says what the board says, with the same ids, clocks and deletions, and is never larger', () => {
    fc.assert(
      fc.property(clientIds, steps(80), (ids, history) => {
        const replicas = Array.from({ length: coaches }, (_, i) =>
          replica(createBoardState(handPlay()), at(ids, i)),
        );
        for (const each of history) take(replicas, each);
        syncAll(replicas.map(({ ydoc }) => ydoc));
        const state = stateOf(at(replicas, 0).ydoc);
        const packed = pack(state);
        const before = newDocument();
        Y.applyUpdate(before, state);
        const after = newDocument();
        Y.applyUpdate(after, packed);
        expect(told(after)).toEqual(told(before));
        expect(project(after)).toEqual(project(before));
        expect(packed.byteLength).toBeLessThanOrEqual(state.byteLength);
        expect(pack(packed)).toEqual(packed);
        for (const each of replicas) end(each);
      }),
      { numRuns: 150 },
    );
  });

  it('goes on as the whole one does for all who had everything: edits, removals, undo, late joiners, packing again', () => {
    let met = 0;
    fc.assert(
      fc.property(
        clientIds,
        steps(50),
        fc.array(fc.boolean(), { minLength: coaches, maxLength: coaches }),
        steps(60),
        fc.array(fc.boolean(), { minLength: coaches, maxLength: coaches }),
        steps(40),
        (ids, first, packedThen, second, packedAgain, third) => {
          let replicas = Array.from({ length: coaches }, (_, i) =>
            replica(createBoardState(handPlay()), at(ids, i)),
          );
          const whole = replica(createBoardState(handPlay()), 9_999);
          for (const each of first) take(replicas, each);
          for (const [round, opensPacked, later] of [
            [1, packedThen, second],
            [2, packedAgain, third],
          ] as const) {
            syncAll([...replicas.map(({ ydoc }) => ydoc), whole.ydoc]);
            // The store's copy has met everybody: a chain of packings, as the server makes them.
            const state = pack(stateOf(whole.ydoc));
            replicas = replicas.map((each, i) => {
              if (!at(opensPacked, i)) return each;
              end(each);
              return replica(state, at(ids, round * coaches + i));
            });
            if (later.length > 10) met += 1;
            for (const each of later) take(replicas, each);
          }
          const late = newDocument();
          Y.applyUpdate(late, pack(stateOf(whole.ydoc)));
          const lateBegan = stateOf(late);
          const lateHad = Y.encodeStateVector(late);
          syncAll([...replicas.map(({ ydoc }) => ydoc), whole.ydoc, late]);
          const merged = newDocument();
          const since = Y.diffUpdate(stateOf(late), lateHad);
          Y.applyUpdate(merged, Y.mergeUpdates([lateBegan, since]));
          const expected = told(whole.ydoc);
          for (const { ydoc } of replicas) expect(told(ydoc)).toEqual(expected);
          expect(told(late)).toEqual(expected);
          expect(told(merged)).toEqual(expected);
          for (const each of [...replicas, whole]) end(each);
        },
      ),
      { numRuns: 200 },
    );
    expect(met).toBeGreaterThan(50);
  });

  /** Coaches who were away while it was packed, against a server that holds it both packed and whole. */
  it('tells what was written without having seen it all, and takes everything else as the whole board would', () => {
    const seen = { taken: 0, stale: 0, answeredWhole: 0, answeredPacked: 0 };
    fc.assert(
      fc.property(
        clientIds,
        steps(40),
        steps(40),
        steps(30),
        fc.array(fc.record({ who }), { minLength: 1, maxLength: 8 }),
        (ids, first, away, meanwhile, returns) => {
          const replicas = Array.from({ length: coaches }, (_, i) =>
            replica(createBoardState(handPlay()), at(ids, i)),
          );
          for (const each of first) take(replicas, each);
          // The store has seen two of them; the others were away, and write on.
          const whole = newDocument(9_999);
          syncAll([at(replicas, 0).ydoc, at(replicas, 1).ydoc, whole]);
          const room = newDocument(8_888);
          Y.applyUpdate(room, pack(stateOf(whole)));
          const packing = packingOf(room, Y.encodeStateVector(whole));
          for (const each of away) take(replicas, each);
          const gone = new Set<number>();
          for (const { who: number } of returns) {
            if (gone.has(number)) continue;
            const { ydoc } = at(replicas, number);
            // Full state or a difference: both are sent by honest clients.
            const update =
              number % 2 === 0
                ? stateOf(ydoc)
                : Y.encodeStateAsUpdate(ydoc, Y.encodeStateVector(room));
            const fits = fitPacked(packing, room, update);
            if (fits === null) {
              seen.stale += 1;
              gone.add(number);
              continue;
            }
            Y.applyUpdate(room, fits);
            Y.applyUpdate(whole, update);
            if (room.store.pendingStructs !== null) return; // It builds on one who is gone: refused.
            seen.taken += 1;
            const vector = Y.encodeStateVector(ydoc);
            if (lags(packing, vector)) {
              seen.answeredWhole += 1;
              Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(whole, vector));
            } else {
              seen.answeredPacked += 1;
              Y.applyUpdate(ydoc, Y.encodeStateAsUpdate(room, vector));
            }
            expect(told(room)).toEqual(told(whole));
            expect(rootsOf(ydoc).maps.spots.toJSON()).toEqual(rootsOf(room).maps.spots.toJSON());
            for (const each of meanwhile)
              if (each.who === number && each.do !== 'sync') take(replicas, each);
          }
          // Whoever was not told to begin afresh ends with the same board, without another word.
          const here = replicas.filter((_, i) => !gone.has(i) && returns.some((r) => r.who === i));
          for (const { ydoc } of here) {
            const update = Y.encodeStateAsUpdate(ydoc, Y.encodeStateVector(room));
            const fits = fitPacked(packing, room, update);
            expect(fits).not.toBeNull();
            Y.applyUpdate(room, fits ?? update);
            Y.applyUpdate(whole, update);
          }
          for (const { ydoc } of here) pull(ydoc, room);
          for (const { ydoc } of here)
            expect(rootsOf(ydoc).maps.spots.toJSON()).toEqual(rootsOf(room).maps.spots.toJSON());
          expect(told(room)).toEqual(told(whole));
          for (const each of replicas) end(each);
        },
      ),
      { numRuns: 500 },
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(10);
  });

  it('keeps the last of a key that is gone, so that it can be set again by all', () => {
    const coach = coachAt(createBoardState(handPlay()), 7);
    const { routes } = rootsOf(coach.ydoc).maps;
    for (let i = 0; i < 5; i++) routes.set('Z', i);
    routes.delete('Z');
    const packed = coachAt(pack(stateOf(coach.ydoc)), 8);
    const before = Y.encodeStateVector(coach.ydoc);
    routes.set('Z', 'again');
    Y.applyUpdate(packed.ydoc, Y.encodeStateAsUpdate(coach.ydoc, before));
    expect(rootsOf(packed.ydoc).maps.routes.get('Z')).toBe('again');
  });

  it('weighs little more than the same board written once, after ten thousand gestures of four editors by turns', () => {
    const once = createBoardState(handPlay());
    const ydocs = Array.from({ length: 4 }, (_, i) => coachAt(once, 100 + i).ydoc);
    const players = [...rootsOf(at(ydocs, 0)).maps.spots.keys()];
    let last = at(ydocs, 0);
    for (let i = 0; i < 10_000; i++) {
      const ydoc = at(ydocs, i % 4);
      if (i % 40 < 4) pull(ydoc, last);
      rootsOf(ydoc).maps.spots.set(at(players, (i * 7) % players.length), [i % 50, -2]);
      last = ydoc;
    }
    syncAll(ydocs);
    const state = stateOf(at(ydocs, 0));
    const packed = pack(state);
    expect(mayBeWorthPacking(at(ydocs, 0))).toBe(true);
    expect(isWorthPacking(state, packed)).toBe(true);
    const again = newDocument();
    Y.applyUpdate(again, packed);
    expect(mayBeWorthPacking(again)).toBe(false);
    expect(packed.byteLength).toBeLessThan(once.byteLength * 1.2);
  });
});

describe('what a packed board is asked', () => {
  const coach = coachAt(createBoardState(handPlay()), 7);
  const { spots } = rootsOf(coach.ydoc).maps;
  for (let i = 0; i < 10; i++) spots.set(i % 2 ? 'H' : 'X', [i, -1]);
  const room = newDocument();
  Y.applyUpdate(room, pack(stateOf(coach.ydoc)));
  const packing: Packing = packingOf(room, Y.encodeStateVector(coach.ydoc));

  it('lets one who has nothing, and one who has all of it, have the packed board', () => {
    expect(lags(packing, Y.encodeStateVector(newDocument()))).toBe(false);
    expect(lags(packing, Y.encodeStateVector(coach.ydoc))).toBe(false);
    const older = coachAt(createBoardState(handPlay()), 9);
    expect(lags(packing, Y.encodeStateVector(older.ydoc))).toBe(true);
  });

  it('does not take a first value for a key that had one', () => {
    const stranger = newDocument(5);
    stranger.getMap('spots').set('H', [0, 0]);
    expect(fitPacked(packing, room, stateOf(stranger))).toBeNull();
    const other = newDocument(5);
    other.getMap('spots').set('new', [0, 0]);
    expect(fitPacked(packing, room, stateOf(other))).not.toBeNull();
  });

  it('takes the whole state of one who has all of it for the edit that is new in it', () => {
    const ydoc = newDocument(11);
    Y.applyUpdate(ydoc, stateOf(coach.ydoc));
    for (let i = 0; i < 5; i++) ydoc.getMap('spots').set('H', [i, -9]);
    const fits = fitPacked(packing, room, stateOf(ydoc));
    const copy = newDocument();
    Y.applyUpdate(copy, stateOf(room));
    Y.applyUpdate(copy, fits ?? new Uint8Array([0, 0]));
    expect(copy.getMap('spots').get('H')).toEqual([4, -9]);
  });

  it('throws on what is no update', () => {
    expect(() => fitPacked(packing, room, Uint8Array.of(9, 9, 9))).toThrow();
  });
});
