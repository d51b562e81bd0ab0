import { describe, expect, it } from 'vitest';
import { fromLocal, toLocal } from './local-time.ts';

describe('a moment in a field', () => {
  it('is the reader’s own clock, to the minute', () => {
    const at = new Date(2026, 8, 5, 21, 10, 33);
    expect(toLocal(at.toISOString())).toBe('2026-09-05T21:10');
  });
  it('means all of its minute', () => {
    const moment = fromLocal('2026-09-05T21:10');
    expect(moment).toBe(new Date(2026, 8, 5, 21, 10, 59, 999).toISOString());
    expect(toLocal(moment ?? '')).toBe('2026-09-05T21:10');
  });
  it('is none while it is being typed', () => {
    expect(fromLocal('')).toBeNull();
    expect(fromLocal('Tuesday')).toBeNull();
  });
});
