import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { storableJson } from './storable-json.ts';

const count = (value: unknown): number =>
  typeof value === 'object' && value !== null
    ? 1 + Object.values(value).reduce((sum: number, inner) => sum + count(inner), 0)
    : 1;

describe('JSON that can be stored', () => {
  it('is read as it is where it has no more values than it may, whatever its texts hold', () => {
    const text = fc.string().filter((said) => !/\0|\p{Surrogate}/u.test(said));
    const value = fc.letrec<{ value: unknown }>((tie) => ({
      value: fc.oneof(
        { maxDepth: 4 },
        fc.oneof(text, fc.integer(), fc.boolean(), fc.constant(null), fc.constant('"[{,\\')),
        fc.array(tie('value')),
        fc.dictionary(text, tie('value')),
      ),
    })).value;
    fc.assert(
      fc.property(value, (value) => {
        const json = JSON.stringify(value);
        // A list or an object counts itself and its first value once more, so an empty one counts two.
        expect(storableJson(json, 2 * count(value))).toEqual(JSON.parse(json));
        expect(() => storableJson(json, count(value) - 1)).toThrow(/holds more/);
      }),
    );
  });
});
