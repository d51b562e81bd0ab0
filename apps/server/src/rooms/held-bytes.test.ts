import { describe, expect, it } from 'vitest';
import { boundHeldBytes } from './held-bytes.ts';

const holding = (userId: string, heldBytes: number) => ({
  pass: { userId },
  heldBytes,
  ended: false,
  holdsTooMuch() {
    this.ended = true;
  },
});

describe('what is held of one person', () => {
  it('R114 is bounded over all connections, and whoever came last goes', () => {
    const all = [
      holding('eve', 400_000),
      holding('ada', 1_000_000),
      holding('eve', 400_000),
      holding('eve', 60_000),
      holding('eve', 400_000),
    ];
    boundHeldBytes(all, 1_000_000);
    expect(all.map(({ ended }) => ended)).toEqual([false, false, false, false, true]);
  });
});
