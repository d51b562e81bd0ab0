import { describe, expect, it } from 'vitest';
import { close } from './close.ts';

describe('close codes', () => {
  const codes = Object.values(close);

  it('are each one thing, in the range RFC 6455, 7.4.2, leaves to applications (4000 to 4999)', () => {
    expect(new Set(codes).size).toBe(codes.length);
    expect(codes.every((code) => code >= 4000 && code <= 4999)).toBe(true);
  });

  it('say by their hundred whether to come back', () => {
    expect(
      codes.every((code) => (code >= 4400 && code <= 4499) || (code >= 4500 && code <= 4599)),
    ).toBe(true);
    for (const later of ['restarting', 'slowReader', 'loadFailed'] as const) {
      expect(close[later]).toBeGreaterThanOrEqual(4500);
    }
  });
});
