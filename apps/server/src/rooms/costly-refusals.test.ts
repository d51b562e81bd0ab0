import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CostlyRefusals } from './costly-refusals.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

describe('R76 costly refusals', () => {
  it('what is cheap to refuse holds nobody up', () => {
    const costs = new CostlyRefusals();
    for (let i = 0; i < 1_000; i++) costs.note('eve', 49);
    expect(costs.waitMs('eve')).toBe(0);
  });

  it('nine tenths of the time are left to the others, however many frames it was', () => {
    const costs = new CostlyRefusals();
    costs.note('eve', 100);
    costs.note('eve', 200);
    expect(costs.waitMs('eve')).toBe(2_700);
    expect(costs.waitMs('ada')).toBe(0);
    vi.advanceTimersByTime(2_699);
    expect(costs.waitMs('eve')).toBe(1);
    vi.advanceTimersByTime(1);
    expect(costs.waitMs('eve')).toBe(0);
  });

  it('what waits is bounded for each member, and is given back once', () => {
    const costs = new CostlyRefusals();
    costs.note('eve', 100);
    const done = costs.keep('eve', 4_000_000);
    expect(costs.keep('eve', 1_000_000)).toBeNull();
    expect(costs.keep('ada', 4_000_000)).not.toBeNull();
    done?.();
    done?.();
    expect(costs.keep('eve', 4_000_000)).not.toBeNull();
    expect(costs.keep('eve', 1_000_000)).toBeNull();
  });
});
