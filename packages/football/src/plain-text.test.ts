import { describe, expect, it } from 'vitest';
import { plainText } from './plain-text.ts';

const wrong = (schema: ReturnType<typeof plainText>, text: unknown) =>
  schema.safeParse(text).error?.issues.map(({ message }) => message) ?? [];

describe('text that somebody types', () => {
  const name = plainText('A name', 8, 'Give the play a name.');

  it('is kept without blanks around it', () => {
    expect(name.parse('  Sail ')).toBe('Sail');
  });

  it('says in whole sentences what is wrong', () => {
    expect(wrong(name, '   ')).toEqual(['Give the play a name.']);
    expect(wrong(name, 'Lantern X')).toEqual(['A name may be 8 characters at most.']);
    expect(wrong(name, 7)).toEqual(['A name is text.']);
  });

  it('may be empty where nothing is said of it', () => {
    expect(wrong(plainText('A concept', 8), '')).toEqual([]);
  });
});
