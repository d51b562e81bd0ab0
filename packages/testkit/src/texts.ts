import fc from 'fast-check';

/** What people type: letters of any script, signs, now and then an emoji; never blank at its ends. */
export const text = (max: number, min = 0): fc.Arbitrary<string> =>
  fc
    .string({ unit: 'grapheme', minLength: min, maxLength: max })
    .map((value) =>
      value
        .slice(0, max)
        .replace(/\p{Surrogate}$/u, '')
        .trim(),
    )
    .filter((value) => value.length >= min);

/** Ids as the schemas allow them, short ones often, so that two edits meet. */
export const id = (): fc.Arbitrary<string> =>
  fc.oneof(
    fc.constantFrom('a', 'b', 'c', 'd', 'row1', 'row2'),
    fc
      .stringMatching(/^[A-Za-z0-9_-]{1,40}$/)
      .filter((value) => !/^(__proto__|constructor|prototype)$/.test(value)),
  );

/** Yards to the hundredth. */
export const yards = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: Math.ceil(min * 100), max: Math.floor(max * 100) }).map((value) => value / 100);
