import { describe, expect, it } from 'vitest';

// What same-bytes.ts makes quick says the same as before.
describe('bytes', () => {
  const bytes = Uint8Array.of(1, 2, 3);

  it('are equal where they are of one kind, as many and each the same', () => {
    expect(bytes).toEqual(Uint8Array.of(1, 2, 3));
    expect({ held: [bytes] }).toStrictEqual({ held: [Uint8Array.of(1, 2, 3)] });
    expect(Uint8Array.of(9, 1, 2, 3).subarray(1)).toEqual(bytes);
  });

  it.each<[string, unknown]>([
    ['one differs', Uint8Array.of(1, 2, 4)],
    ['one is missing', Uint8Array.of(1, 2)],
    ['one is more', Uint8Array.of(1, 2, 3, 0)],
    ['they are of another kind', Buffer.of(1, 2, 3)],
    ['they are numbers', [1, 2, 3]],
  ])('are not where %s', (_, others) => {
    expect(bytes).not.toEqual(others);
    expect({ held: [bytes] }).not.toStrictEqual({ held: [others] });
  });
});
