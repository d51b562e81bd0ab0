import { describe, expect, it } from 'vitest';
import { CannotStart } from './cannot-start.ts';
import { readEnv } from './env.ts';

const secret = 'x'.repeat(32);

describe('the settings', () => {
  it('may all be left out', () => {
    expect(readEnv({})).toMatchObject({
      NODE_ENV: 'development',
      PORT: 4600,
      HOST: '127.0.0.1',
      demo: true,
      LOG_LEVEL: 'warn',
      TRUST_PROXY: false,
    });
  });

  it('count as left out when they are empty', () => {
    expect(readEnv({ PORT: '', DATABASE_URL: '' })).toMatchObject({ PORT: 4600 });
  });

  it.each([
    [{}, true],
    [{ DATABASE_URL: 'postgresql://me@db/app' }, false],
    [{ NODE_ENV: 'production', AUTH_SECRET: secret }, false],
    [{ NODE_ENV: 'production', AUTH_SECRET: secret, DEMO: '1' }, true],
    [{ DATABASE_URL: 'postgresql://me@db/app', DEMO: '1' }, true],
    [{ DEMO: '0' }, false],
  ])('%j: demo accounts %s', (variables, demo) => {
    expect(readEnv(variables).demo).toBe(demo);
  });

  it.each([
    [{}, false, 'warn'],
    [{ NODE_ENV: 'production', AUTH_SECRET: secret }, false, 'info'],
    [{ NODE_ENV: 'production', AUTH_SECRET: secret }, true, 'warn'],
    [{ LOG_LEVEL: 'debug' }, true, 'debug'],
  ])('%j, on a terminal %s: logs %s', (variables, onTerminal, level) => {
    expect(readEnv(variables, { onTerminal }).LOG_LEVEL).toBe(level);
  });

  it('take addresses as origins', () => {
    const { PUBLIC_URL } = readEnv({ PUBLIC_URL: 'https://a.example/path, http://localhost:4600' });
    expect(PUBLIC_URL).toEqual(['https://a.example', 'http://localhost:4600']);
  });

  it.each([
    [{ PORT: 'http' }, /PORT: write a port number/],
    [{ PORT: '70000' }, /PORT/],
    [{ DATABASE_URL: 'mysql://x/y' }, /DATABASE_URL: write it as postgresql:/],
    [{ DATABASE_URL: 'nonsense' }, /DATABASE_URL/],
    [{ DEMO: 'yes' }, /DEMO: write 1 or 0/],
    [{ NODE_ENV: 'staging' }, /NODE_ENV/],
    [{ AUTH_SECRET: 'short' }, /AUTH_SECRET: use 32 characters/],
    [{ NODE_ENV: 'production' }, /AUTH_SECRET: is required with NODE_ENV=production/],
    [{ PUBLIC_URL: 'stemline.example' }, /PUBLIC_URL: write addresses as/],
    [{ LOG_LEVEL: 'loud' }, /LOG_LEVEL/],
  ])('%j are refused in one line that names the setting', (variables, words) => {
    expect(() => readEnv(variables)).toThrow(CannotStart);
    expect(() => readEnv(variables)).toThrow(words);
    expect(() => readEnv(variables)).not.toThrow(/\n/);
  });
});
