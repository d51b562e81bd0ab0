import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { presenceColors } from './presence-color.ts';

describe('colours of those who are here', () => {
  it('are their own as long as there are enough, in whatever order they came', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.string({ minLength: 1 }), { maxLength: 8 }), (members) => {
        const colors = presenceColors(members);
        expect(new Set(colors.values()).size).toBe(members.length);
        expect(presenceColors([...members].reverse())).toEqual(colors);
      }),
    );
  });
  it('are shared when there are more people than colours', () => {
    const members = Array.from({ length: 20 }, (_, i) => `m${i}`);
    expect(presenceColors(members).size).toBe(20);
  });
});
