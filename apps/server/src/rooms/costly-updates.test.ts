import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CostlyUpdates } from './costly-updates.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

describe('R76 costly updates', () => {
  it('what is cheap to refuse holds nobody up', () => {
    const costs = new CostlyUpdates();
    for (let i = 0; i < 1_000; i++) costs.refused('eve', 49);
    expect(costs.waitMs('eve')).toBe(0);
  });

  it('nine tenths of the time are left to the others, however many frames it was', () => {
    const costs = new CostlyUpdates();
    costs.refused('eve', 100);
    costs.refused('eve', 200);
    expect(costs.waitMs('eve')).toBe(2_700);
    expect(costs.waitMs('ada')).toBe(0);
    vi.advanceTimersByTime(2_699);
    expect(costs.waitMs('eve')).toBe(1);
    vi.advanceTimersByTime(1);
    expect(costs.waitMs('eve')).toBe(0);
  });

  it('what is taken quickly holds nobody up, nor does one that took long by chance', () => {
    const costs = new CostlyUpdates();
    for (let i = 0; i < 10_000; i++) costs.taken('ada', 7);
    costs.taken('ada', 90);
    expect(costs.waitMs('ada')).toBe(0);
    // One in fifty is late on a busy machine, however many he writes.
    for (let i = 0; i < 10_000; i++) costs.taken('ben', i % 50 === 0 ? 20 : 1);
    expect(costs.waitMs('ben')).toBe(0);
  });

  it('who writes what is costly to judge on and on has a quarter of the time', () => {
    const costs = new CostlyUpdates();
    let judged = 0;
    for (let ms = 0; ms < 10_000; ) {
      const wait = costs.waitMs('eve');
      const took = wait > 0 ? Math.ceil(wait) : 20;
      vi.advanceTimersByTime(took);
      ms += took;
      if (wait > 0) continue;
      costs.taken('eve', took);
      judged += took;
    }
    expect(judged).toBeGreaterThan(2_500);
    expect(judged).toBeLessThan(2_800);
    vi.advanceTimersByTime(1_000);
    expect(costs.waitMs('eve')).toBe(0);
  });

  it('what waits is bounded for each member, and is given back once', () => {
    const costs = new CostlyUpdates();
    costs.refused('eve', 100);
    const done = costs.keep('eve', 4_000_000);
    expect(costs.keep('eve', 1_000_000)).toBeNull();
    expect(costs.keep('ada', 4_000_000)).not.toBeNull();
    done?.();
    done?.();
    expect(costs.keep('eve', 4_000_000)).not.toBeNull();
    expect(costs.keep('eve', 1_000_000)).toBeNull();
  });
});
