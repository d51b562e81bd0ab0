import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Heartbeats } from './heartbeats.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

const counting = () => ({
  beats: 0,
  beat() {
    this.beats += 1;
  },
});

describe('heartbeats', () => {
  it('R82 each is asked once in every heartbeat, the first time not before one is nearly over', () => {
    const heartbeats = new Heartbeats(1600);
    const all = [];
    for (let i = 0; i < 40; i++) {
      const one = counting();
      heartbeats.add(one);
      vi.advanceTimersByTime(70);
      all.push({ one, came: Date.now() });
    }
    const beats = all.map(({ one: { beats } }) => beats);
    vi.advanceTimersByTime(1600);
    expect(all.map(({ one }, i) => one.beats - (beats[i] ?? 0))).toEqual(all.map(() => 1));
    const late = counting();
    heartbeats.add(late);
    vi.advanceTimersByTime(1490);
    expect(late.beats).toBe(0);
    vi.advanceTimersByTime(110);
    expect(late.beats).toBe(1);
  });

  it('who has left is not asked, and when nobody is left no timer is', () => {
    const heartbeats = new Heartbeats(100);
    const [stays, leaves] = [counting(), counting()];
    heartbeats.add(stays);
    heartbeats.add(leaves);
    heartbeats.remove(leaves);
    heartbeats.remove(leaves);
    vi.advanceTimersByTime(250);
    expect([stays.beats, leaves.beats]).toEqual([2, 0]);
    heartbeats.remove(stays);
    expect(vi.getTimerCount()).toBe(0);
    heartbeats.add(stays);
    expect(vi.getTimerCount()).toBe(1);
  });
});
