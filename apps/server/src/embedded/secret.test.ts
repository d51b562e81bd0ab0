import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readOrMakeSecret } from './secret.ts';

it('a secret is made once, in a folder that need not be there yet, and read by its owner only', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'stemline-secret-'));
  try {
    const dataDir = join(folder, 'data', 'of stemline');
    const secret = await readOrMakeSecret(dataDir, 'auth-secret');
    expect(secret).toHaveLength(43);
    expect(await readOrMakeSecret(dataDir, 'auth-secret')).toBe(secret);
    expect((await stat(join(dataDir, 'auth-secret'))).mode & 0o777).toBe(0o600);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
