import { describe, expect, it } from 'vitest';
import { StatementNames } from './statement-names.ts';

const often = (names: StatementNames, sql: string): string[] =>
  Array.from({ length: 8 }, () => names.of(sql));

describe('names of statements', () => {
  it('what is asked often gets one name of its own, what is asked seldom none', () => {
    const names = new StatementNames();
    expect(names.of('seldom')).toBe('');
    const [one, other] = [often(names, 'one').at(-1), often(names, 'other').at(-1)];
    expect(one).not.toBe('');
    expect(one).not.toBe(other);
    expect(names.of('one')).toBe(one);
    expect(names.of('seldom')).toBe('');
  });

  it('there are never more of them than a connection should keep', () => {
    const names = new StatementNames();
    const given = new Set(
      Array.from({ length: 500 }, (_, i) => often(names, `list of ${i}`).at(-1)),
    );
    given.delete('');
    expect(given.size).toBe(64);
  });

  it('what is counted is bounded, and a busy statement is found all the same', () => {
    const names = new StatementNames();
    for (let i = 0; i < 100_000; i++) names.of(`once ${i}`);
    expect(often(names, 'busy').at(-1)).not.toBe('');
  });
});
