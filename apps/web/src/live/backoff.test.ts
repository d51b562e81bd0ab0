import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longestWaitMs, waitMs } from './backoff.ts';

describe('waiting to come back', () => {
  const random = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
  it('is never more than the cap, never less than half its step', () => {
    fc.assert(
      fc.property(fc.nat(40), random, (failures, chance) => {
        const wait = waitMs(failures, chance);
        const whole = waitMs(failures, 1);
        expect(wait).toBeLessThanOrEqual(longestWaitMs);
        expect(wait).toBeGreaterThanOrEqual(Math.floor(whole / 2));
      }),
    );
  });
  it('does not bring two pages back in one beat', () => {
    expect(waitMs(6, 0.1)).not.toBe(waitMs(6, 0.6));
  });
});
