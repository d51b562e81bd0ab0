import { stat } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { passwordHash } from './password-hash.ts';

describe('hashing passwords', () => {
  it('tells the right one from others', async () => {
    const hash = await passwordHash.hash('a clear night in May');
    expect(await passwordHash.verify({ hash, password: 'a clear night in May' })).toBe(true);
    expect(await passwordHash.verify({ hash, password: 'a clear night in June' })).toBe(false);
  });

  it('leaves threads to other work, however many sign in at once', async () => {
    let done = 0;
    const all = Array.from({ length: 24 }, async () => {
      await passwordHash.hash('a clear night in May');
      done += 1;
    });
    await stat('.');
    expect(done).toBeLessThan(4);
    await Promise.all(all);
  });
});
