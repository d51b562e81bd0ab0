import { createBoardState } from '@stemline/board/create';
import { newDocument } from '@stemline/board/schema';
import { handPlay } from '@stemline/testkit/plays';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { Background } from './background.ts';
import type { BoardState } from './board-state.ts';
import { type Checker, CheckingEnded } from './checking/checker.ts';
import { Durable } from './durable.ts';
import { roomLimits } from './limits.ts';
import { RuleCheck } from './rule-check.ts';
import { StaffLooks } from './staff-looks.ts';
import type { BoardStore } from './store.ts';

const { findingsDebounceMs, findingsEveryMs } = roomLimits;
const faults: unknown[] = [];

/** A room's rule check whose checks are only noted, with the time of each. */
function open(check: () => Promise<never[]> = async () => []) {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, createBoardState(handPlay()));
  const checked: number[] = [];
  const store = {
    looks: async () => [],
    waivers: async () => new Map(),
    openFindings: async () => [],
  } as unknown as BoardStore;
  const rules = new RuleCheck({
    board: {
      boardId: 'board',
      durable: new Durable(ydoc, { onUse: () => undefined, onBroken: () => undefined }),
      authors: new Map(),
      revision: 1,
    } as unknown as BoardState<unknown>,
    staffId: 'Harbour',
    maker: { memberId: null, name: 'Ada Holm', at: new Date(0) },
    store,
    staffLooks: new StaffLooks(store),
    limits: roomLimits,
    background: new Background((error) => faults.push(error)),
    checker: {
      check: async () => {
        checked.push(performance.now());
        return check();
      },
      forget: () => undefined,
    } as unknown as Checker,
    now: () => new Date(),
    leads: () => true,
    onFindings: () => undefined,
  });
  return { rules, checked };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  expect(faults.splice(0)).toEqual([]);
});

describe('the pace of the rule check', () => {
  it('R60 R65 the first check after a pause waits until the board has rested, and no longer', async () => {
    const { rules, checked } = open();
    for (const pause of [0, findingsEveryMs + 1, 10_000]) {
      await vi.advanceTimersByTimeAsync(pause);
      const edited = performance.now();
      rules.soon();
      await vi.advanceTimersByTimeAsync(findingsDebounceMs);
      expect(checked.splice(0)).toEqual([edited + findingsDebounceMs]);
    }
  });

  it('R65 a board that is edited on and on is checked at its pace, and the last edit too', async () => {
    const { rules, checked } = open();
    // Gestures far enough apart for the board to rest between them.
    const apart = findingsDebounceMs + 20;
    const edits = 100;
    for (let i = 0; i < edits; i++) {
      rules.soon();
      await vi.advanceTimersByTimeAsync(apart);
    }
    const lastEdit = performance.now() - apart;
    await vi.advanceTimersByTimeAsync(findingsEveryMs);
    const pauses = checked.slice(1).map((at, i) => at - (checked[i] ?? 0));
    expect(Math.min(...pauses)).toBeGreaterThanOrEqual(findingsEveryMs);
    // Not starved either: each comes as soon as the pace and the next rest let it.
    expect(Math.max(...pauses)).toBeLessThanOrEqual(findingsEveryMs + apart + findingsDebounceMs);
    expect(checked.at(-1)).toBeGreaterThanOrEqual(lastEdit + findingsDebounceMs);
    const count = checked.length;
    await vi.advanceTimersByTimeAsync(60_000);
    expect(checked).toHaveLength(count);
    rules.close();
  });

  it('R65 a board that never rests is checked all the same', async () => {
    const { rules, checked } = open();
    const apart = findingsDebounceMs / 4;
    for (let i = 0; i < 400; i++) {
      rules.soon();
      await vi.advanceTimersByTimeAsync(apart);
    }
    expect(checked.length).toBeGreaterThan(400 / (2 * (findingsEveryMs / apart)));
    const pauses = checked.slice(1).map((at, i) => at - (checked[i] ?? 0));
    expect(Math.min(...pauses)).toBeGreaterThanOrEqual(findingsEveryMs);
    expect(Math.max(...pauses)).toBeLessThanOrEqual(findingsEveryMs + apart + findingsDebounceMs);
    rules.close();
  });

  it('R65 a freeze waits for no pace', async () => {
    const { rules, checked } = open();
    rules.soon();
    await vi.advanceTimersByTimeAsync(findingsDebounceMs);
    await rules.now({ afresh: true });
    await rules.now({ afresh: true });
    expect(checked).toHaveLength(3);
    rules.close();
  });
});

describe('the end of the server', () => {
  it('R90 is no failure of a check that it meets', async () => {
    const { rules, checked } = open(() => Promise.reject(new CheckingEnded()));
    rules.soon();
    await vi.advanceTimersByTimeAsync(10_000);
    expect(checked).toHaveLength(1);
    rules.close();
  });

  it('any other failure is told, and the check tried again', async () => {
    const { rules, checked } = open(() => Promise.reject(new Error('on purpose')));
    rules.soon();
    await vi.advanceTimersByTimeAsync(findingsDebounceMs + 150);
    expect(checked).toHaveLength(2);
    expect(faults.splice(0)).toEqual([new Error('on purpose'), new Error('on purpose')]);
    rules.close();
    await vi.advanceTimersByTimeAsync(60_000);
  });
});
