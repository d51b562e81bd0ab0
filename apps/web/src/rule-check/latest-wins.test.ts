import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LatestWins } from './latest-wins.ts';

describe('latest wins', () => {
  it('asks one at a time, the last wish at last, and holds one wish at most', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 60 }), (script) => {
        const sent: number[] = [];
        const done: number[] = [];
        const asker = new LatestWins<number>((wanted) => sent.push(wanted));
        let wished = 0;
        for (const isWish of script) {
          if (isWish) {
            wished += 1;
            asker.ask(wished);
          } else if (sent.length > done.length) {
            done.push(asker.answered());
          }
          expect(sent.length - done.length).toBeLessThanOrEqual(1);
        }
        while (sent.length > done.length) done.push(asker.answered());
        expect(done).toEqual(sent);
        expect(sent).toEqual([...sent].sort((a, b) => a - b));
        if (wished > 0) expect(sent.at(-1)).toBe(wished);
      }),
    );
  });

  it('asks only the latest of what was wished meanwhile', () => {
    const sent: string[] = [];
    const asker = new LatestWins<string>((wanted) => sent.push(wanted));
    for (const wish of ['a', 'b', 'c']) asker.ask(wish);
    expect(asker.answered()).toBe('a');
    expect(sent).toEqual(['a', 'c']);
    expect(asker.answered()).toBe('c');
    expect(() => asker.answered()).toThrow('nothing was asked');
  });
});
