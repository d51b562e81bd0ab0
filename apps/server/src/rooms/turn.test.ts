import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Turn } from './turn.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const heard = { asks: 0, goesOn: 0 };
function turn(): Turn {
  heard.asks = 0;
  heard.goesOn = 0;
  return new Turn(200, {
    isOurs: () => {
      heard.asks += 1;
    },
    goesOn: () => {
      heard.goesOn += 1;
    },
  });
}

describe('R111 the turn of a board', () => {
  it('is asked for by who loses twice in a row, and not by who wins now and then', () => {
    const one = turn();
    for (let i = 0; i < 5; i++) {
      one.lost();
      one.won();
    }
    expect(heard.asks).toBe(0);
    one.lost();
    one.lost();
    expect(heard.asks).toBe(1);
    one.lost();
    expect(heard.asks).toBe(2);
  });

  it('is left until the other has had it, or for a while', () => {
    const one = turn();
    one.leaveTo({ isOlder: false });
    expect(one.isLeft).toBe(true);
    one.taken();
    one.taken();
    expect([one.isLeft, heard.goesOn]).toEqual([false, 1]);
    one.leaveTo({ isOlder: false });
    vi.advanceTimersByTime(150);
    one.leaveTo({ isOlder: false });
    expect(one.isLeft).toBe(true);
    // Asked twice, it waits no longer for that.
    vi.advanceTimersByTime(50);
    expect([one.isLeft, heard.goesOn]).toEqual([false, 2]);
  });

  it('of two that ask goes to the older one', () => {
    const [older, younger] = [turn(), turn()];
    for (const one of [older, younger]) for (let i = 0; i < 2; i++) one.lost();
    older.leaveTo({ isOlder: false });
    younger.leaveTo({ isOlder: true });
    expect([older.isLeft, younger.isLeft]).toEqual([false, true]);
    // Who waits for another does not ask meanwhile.
    heard.asks = 0;
    younger.lost();
    expect(heard.asks).toBe(0);
  });

  it('wakes nobody when its board is closed', () => {
    const one = turn();
    one.leaveTo({ isOlder: true });
    one.close();
    vi.advanceTimersByTime(1_000);
    expect(heard.goesOn).toBe(0);
  });
});
