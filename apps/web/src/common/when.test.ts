import { describe, expect, it } from 'vitest';
import { longWhen, paperWhen, shortWhen } from './when.ts';

// Built from local parts: the words depend on the reader's own clock and calendar.
const now = new Date(2026, 9, 14, 15, 30);
const at = (
  ...parts: [year: number, month: number, day: number, hour: number, minute: number]
): string => new Date(...parts).toISOString();

describe('a moment in a table', () => {
  it.each([
    [at(2026, 9, 14, 15, 30), 'just now'],
    [at(2026, 9, 14, 15, 18), '12 min ago'],
    [at(2026, 9, 14, 8, 5), '8:05 AM'],
    [at(2026, 9, 13, 23, 0), 'yesterday 11:00 PM'],
    [at(2026, 9, 11, 9, 0), 'Sun 9:00 AM'],
    [at(2026, 2, 4, 9, 0), 'Mar 4'],
    [at(2025, 2, 4, 9, 0), 'Mar 4, 2025'],
  ])('%s is "%s"', (iso, words) => {
    // Intl puts a narrow no-break space before AM and PM.
    expect(shortWhen(iso, now).replace(/\u202f/g, ' ')).toBe(words);
  });

  it('is a date on paper, where "ago" would soon be untrue', () => {
    expect(paperWhen(at(2026, 9, 14, 15, 18)).replace(/\u202f/g, ' ')).toBe(
      'Oct 14, 2026, 3:18 PM',
    );
  });

  it('is whole in the tooltip', () => {
    expect(longWhen(at(2026, 9, 14, 15, 30))).toMatch(/Wednesday, October 14, 2026.*3:30/);
  });
});
