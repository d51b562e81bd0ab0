import { describe, expect, it } from 'vitest';
import { playSchema } from './play.ts';
import { formationPlay } from './plays.test-kit.ts';
import { protectionCallSchema, protectionOf, protectionSchema, protections } from './protection.ts';

describe('protections', () => {
  it.each(protections)('$name: is data of the schema, and can be called', (protection) => {
    expect(protectionSchema.parse(JSON.parse(JSON.stringify(protection)))).toEqual(protection);
    const call = protectionCallSchema.parse({ id: protection.id, toward: 'left' });
    expect(protectionOf(call)).toBe(protection);
  });

  it('are of five, six and seven men, with ids and names of their own', () => {
    expect(new Set(protections.map(({ helpers }) => 5 + helpers.length))).toEqual(
      new Set([5, 6, 7]),
    );
    expect(new Set(protections.map(({ id }) => id)).size).toBe(protections.length);
    expect(new Set(protections.map(({ name }) => name)).size).toBe(protections.length);
  });

  it('may be left out of a play, and one that does not exist is refused', () => {
    const play = formationPlay('doubles');
    expect(playSchema.parse(play)).toEqual(play);
    const call = { id: 'six-half', toward: 'right' };
    expect(playSchema.parse({ ...play, protection: call }).protection).toEqual(call);
    expect(playSchema.safeParse({ ...play, protection: { ...call, id: 'nine' } }).success).toBe(
      false,
    );
    expect(protectionOf(undefined)).toBeNull();
  });
});
