import { createBoardState } from '@stemline/board/create';
import { mayBeWorthPacking } from '@stemline/board/pack';
import { project } from '@stemline/board/project';
import { newDocument } from '@stemline/board/schema';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { asPlayerId, boardPlay, handPlay } from '@stemline/testkit/plays';
import { sender } from '@stemline/testkit/sender';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { Durable } from './durable.ts';
import { Stillness } from './stillness.ts';

vi.setConfig({ testTimeout: 120_000 });

const ignored = (): void => undefined;
const open = (state: Uint8Array, onBroken: (error: unknown) => void = ignored): Durable => {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  return new Durable(ydoc, { onUse: ignored, onBroken });
};
const documentOf = (...updates: Uint8Array[]): Y.Doc => {
  const ydoc = newDocument();
  for (const update of updates) Y.applyUpdate(ydoc, update);
  return ydoc;
};
/** All that a document says, in one form, however its structs lie. */
const told = (...updates: Uint8Array[]): Uint8Array =>
  Y.encodeStateAsUpdate(documentOf(Y.encodeStateAsUpdate(documentOf(...updates))));

describe('a resting board', () => {
  it('R89 says what one that never rests says: to whoever syncs, to the check, and to the store', () => {
    let rests = 0;
    let asked = 0;
    fc.assert(
      fc.property(
        boardPlay(),
        fc.array(
          fc.record({ by: fc.nat(2), edit: edit(), rests: fc.boolean(), hears: fc.boolean() }),
          {
            minLength: 1,
            maxLength: 15,
            size: 'max',
          },
        ),
        (board, steps) => {
          const first = createBoardState(board.play, board.notes);
          const [restless, resting] = [open(first), open(first)];
          const coaches = [101, 202, 303].map((id) => sender(id, first));
          /** States that somebody may come back with. */
          const known: Uint8Array[] = [Y.encodeStateAsUpdate(newDocument()), first];
          for (const step of steps) {
            const coach = coaches[step.by] as (typeof coaches)[number];
            makeEdit(coach.coach, step.edit);
            const updates = coach.sent.splice(0);
            restless.apply(updates);
            resting.apply(updates);
            if (step.hears) {
              Y.applyUpdate(coach.coach.ydoc, restless.encode());
              coach.sent.splice(0);
            }
            known.push(Y.encodeStateAsUpdate(coach.coach.ydoc));
            if (step.rests) {
              resting.rest();
              rests += 1;
              expect(resting.isResting).toBe(true);
            }
            expect(resting.stateVector).toEqual(restless.stateVector);
            expect(told(resting.encode())).toEqual(told(restless.encode()));
            for (const state of known) {
              const vector = Y.encodeStateVector(documentOf(state));
              const [a, b] = [resting.answerTo(vector), restless.answerTo(vector)];
              expect(told(state, a)).toEqual(told(state, b));
              // No more is sent for it than there is to say.
              expect(Y.encodeStateVectorFromUpdate(a)).toEqual(Y.encodeStateVectorFromUpdate(b));
              asked += 1;
            }
            expect(resting.mayBeWorthPacking).toBe(restless.mayBeWorthPacking);
            // Nothing of that has woken it.
            expect(resting.isResting).toBe(step.rests);
            expect(project(documentOf(resting.encode()))).toEqual(project(restless.ydoc));
          }
          expect(project(resting.ydoc)).toEqual(project(restless.ydoc));
          expect(resting.isResting).toBe(false);
        },
      ),
      { numRuns: 15 },
    );
    expect(rests).toBeGreaterThan(15);
    expect(asked).toBeGreaterThan(300);
  });

  it('takes over what came in the meantime, few or many, before it says anything', () => {
    const ways = [
      (board: Durable) => project(board.ydoc),
      (board: Durable) => told(board.encode()),
      (board: Durable) => told(board.answerTo(Y.encodeStateVector(newDocument()))),
      (board: Durable) => board.stateVector,
      (board: Durable) => {
        board.rest();
        return told(board.encode());
      },
    ];
    for (const many of [1, 31, 32, 33, 200]) {
      for (const say of ways) {
        const [late, whole] = [open(createBoardState(handPlay())), documentOf()];
        Y.applyUpdate(whole, late.encode());
        const { coach, sent } = sender(101, late.encode());
        for (let i = 0; i < many; i++) coach.movePlayer(asPlayerId('H'), [i % 20, -3]);
        for (const update of sent) {
          late.apply([update]);
          Y.applyUpdate(whole, update);
          expect(late.stateVector).toEqual(Y.encodeStateVector(whole));
        }
        expect(say(late)).toEqual(say(new Durable(whole, { onUse: ignored, onBroken: ignored })));
      }
    }
  });

  it('tells when something could not be taken over, and says nothing', () => {
    const faults: unknown[] = [];
    const board = open(createBoardState(handPlay()), (error) => faults.push(error));
    const { coach, sent } = sender(101, board.encode());
    coach.movePlayer(asPlayerId('H'), [1, -3]);
    const no = new Error('no');
    board.ydoc.on('beforeTransaction', () => {
      throw no;
    });
    board.apply(sent);
    expect(() => board.encode()).toThrow(no);
    expect(faults).toEqual([no]);
  });

  it('R89 knows whether it may be worth packing without being woken', () => {
    const board = open(createBoardState(handPlay()));
    const { coach, sent } = sender(101, board.encode());
    for (let i = 0; i < 2_000; i++) {
      coach.movePlayer(asPlayerId(i % 2 === 0 ? 'H' : 'X'), [i % 20, -3]);
    }
    board.apply(sent);
    expect(mayBeWorthPacking(board.ydoc)).toBe(true);
    board.rest();
    expect(board.mayBeWorthPacking).toBe(true);
    expect(board.isResting).toBe(true);
  });

  it('R89 a board that was closed says what it said', () => {
    for (const rests of [true, false]) {
      const board = open(createBoardState(handPlay()));
      const before = told(board.encode());
      if (rests) board.rest();
      board.close();
      expect(told(board.encode())).toEqual(before);
    }
  });
});

describe('stillness', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('R89 comes after a while without use, not before, and again after the next use', async () => {
    let rested = 0;
    const still = new Stillness(1_000, () => {
      rested += 1;
      return true;
    });
    for (let i = 0; i < 50; i++) {
      still.used();
      await vi.advanceTimersByTimeAsync(900);
      expect(rested).toBe(0);
    }
    await vi.advanceTimersByTimeAsync(1_100);
    expect(rested).toBe(1);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(rested).toBe(1);
    still.used();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(rested).toBe(2);
  });

  it('R89 what is still under way is waited for', async () => {
    let busy = true;
    let asked = 0;
    const still = new Stillness(1_000, () => {
      asked += 1;
      return !busy;
    });
    still.used();
    await vi.advanceTimersByTimeAsync(5_000);
    expect(asked).toBeGreaterThan(2);
    busy = false;
    await vi.advanceTimersByTimeAsync(1_000);
    const count = asked;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(asked).toBe(count);
  });

  it('R81 its timer ends with the room', () => {
    const still = new Stillness(1_000, () => true);
    still.used();
    still.close();
    still.used();
    expect(vi.getTimerCount()).toBe(0);
  });
});
