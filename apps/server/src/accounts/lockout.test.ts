import { problemSchema } from '@stemline/protocol/problem';
import { beforeAll, describe, expect, it } from 'vitest';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Answer, Person } from '../testing/person.ts';
import { beginTry, wrongPasswords } from './lockout.ts';

let stage: TestApp;
beforeAll(async () => {
  stage = await startApp();
});

const tries = (person: Person, email: string, password: string): Promise<Answer> =>
  person.ask('POST', '/api/auth/sign-in/email', { email, password });
const { accountFromAddress, account, address, windowMs } = wrongPasswords;

describe('after too many wrong passwords', () => {
  it('an account takes none, not even the right one, and says when again', async () => {
    const ada = await stage.person('Ada');
    const guesser = stage.stranger();
    for (let i = 0; i < accountFromAddress; i++)
      expect((await tries(guesser, ada.email, `wrong guess ${i}`)).status).toBe(401);
    const answer = await tries(guesser, ada.email.toUpperCase(), ada.password);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      429,
      'application/problem+json',
    ]);
    expect(problemSchema.parse(JSON.parse(answer.text))).toMatchObject({
      type: 'urn:stemline:problem:lockedOut',
      mend: 'Wait 15 minutes, then try again.',
    });
    expect(Number(answer.headers.get('retry-after'))).toBeLessThanOrEqual(windowMs / 1000);
    // Who is signed in stays so, and others are not touched.
    expect((await ada.ask('GET', '/api/me')).status).toBe(200);
    await (await stage.person('Bea')).signIn();
  });

  it('an account takes none for the whole quarter of an hour, whoever else comes', async () => {
    const gus = await stage.person('Gus');
    const guesser = stage.stranger();
    const moved = async (minutes: number): Promise<void> => {
      await stage.prisma.rateLimit.updateMany({
        data: { lastRequest: { decrement: minutes * 60_000 } },
      });
    };
    for (let i = 0; i < accountFromAddress; i++)
      await tries(guesser, gus.email, `wrong guess ${i}`);
    for (let passed = 0; passed < 14; passed += 2) {
      await moved(2);
      await (await stage.person(`Somebody ${passed}`)).signIn();
      expect([passed, (await tries(guesser, gus.email, gus.password)).status]).toEqual([
        passed,
        429,
      ]);
    }
    await moved(2);
    expect((await tries(guesser, gus.email, gus.password)).status).toBe(200);
  });

  it('an account that does not exist looks the same', async () => {
    const guesser = stage.stranger();
    const statuses: number[] = [];
    for (let i = 0; i <= accountFromAddress; i++)
      statuses.push((await tries(guesser, 'nobody@example.test', `wrong guess ${i}`)).status);
    expect(statuses).toEqual([...Array<number>(accountFromAddress).fill(401), 429]);
  });

  it('no account has so long an e-mail that nobody counts', async () => {
    const guesser = stage.stranger();
    const email = `nobody@${'a-label.'.repeat(60)}test`;
    for (let i = 0; i <= accountFromAddress; i++) {
      const answer = await tries(guesser, email, `wrong guess ${i}`);
      expect([answer.status, answer.text]).toEqual([422, expect.stringContaining('body.email')]);
    }
    const account = { name: 'Long', email, password: 'long enough to pass' };
    expect((await guesser.ask('POST', '/api/auth/sign-up/email', account)).status).toBe(422);
  });

  it('many at once gain nothing', async () => {
    const cem = await stage.person('Cem');
    const guesser = stage.stranger();
    const answers = await Promise.all(
      Array.from({ length: 30 }, (_, i) => tries(guesser, cem.email, `wrong guess ${i}`)),
    );
    const looked = answers.filter(({ status }) => status === 401);
    expect(looked.length).toBeLessThanOrEqual(accountFromAddress);
    expect(answers.filter(({ status }) => status === 429)).toHaveLength(30 - looked.length);
  });

  it('the right one before that forgives the wrong ones', async () => {
    const dee = await stage.person('Dee');
    const guesser = stage.stranger();
    for (let round = 0; round < 2; round++) {
      for (let i = 0; i < accountFromAddress - 1; i++)
        expect((await tries(guesser, dee.email, 'a wrong guess')).status).toBe(401);
      await dee.signIn();
    }
  });

  it('a stolen session cannot guess the password by changing it', async () => {
    const eve = await stage.person('Eve');
    const change = (currentPassword: string) =>
      eve.ask('POST', '/api/auth/change-password', {
        currentPassword,
        newPassword: 'a new one, long enough',
      });
    for (let i = 0; i < accountFromAddress; i++)
      expect((await change('a wrong guess')).status).toBe(400);
    const answer = await change(eve.password);
    expect(answer.status).toBe(429);
    expect(answer.text).toContain('lockedOut');
  });

  it('what was no try of a password does not count', async () => {
    const fay = await stage.person('Fay');
    const guesser = stage.stranger();
    for (let i = 0; i <= accountFromAddress; i++) {
      const answer = await guesser.ask('POST', '/api/auth/sign-in/email', { email: fay.email });
      expect(answer.status).toBe(422);
    }
    await fay.signIn();
  });
});

describe('the counters', () => {
  const at = (ms: number) => new Date(Date.UTC(2030, 0, 1) + ms);
  const wrong = async (email: string, from: string, ms: number): Promise<void> => {
    const settle = await beginTry(stage.prisma, email, from, at(ms));
    await settle('wrong');
  };

  it('begin anew when the quarter of an hour is over', async () => {
    for (let i = 0; i < accountFromAddress; i++) await wrong('gus@example.test', '192.0.2.1', i);
    await expect(wrong('gus@example.test', '192.0.2.1', windowMs - 1)).rejects.toThrow();
    await wrong('gus@example.test', '192.0.2.2', windowMs - 1);
    await wrong('gus@example.test', '192.0.2.1', windowMs);
  });

  it('hold for an account that is guessed at from many addresses', async () => {
    for (let i = 0; i < account; i++) await wrong('hal@example.test', `198.51.100.${i}`, i);
    await expect(wrong('hal@example.test', '203.0.113.1', account)).rejects.toThrow(/too many/);
  });

  it('hold for an address that guesses at many accounts', async () => {
    for (let i = 0; i < address; i++) await wrong(`person${i}@example.test`, '203.0.113.9', i);
    await expect(wrong('ivy@example.test', '203.0.113.9', address)).rejects.toThrow(/too many/);
  });

  it('take the addresses of one IPv6 network for one', async () => {
    for (let i = 0; i < accountFromAddress; i++)
      await wrong('jan@example.test', `2001:db8::${i}`, i);
    await expect(wrong('jan@example.test', '2001:db8::ffff', 1)).rejects.toThrow(/too many/);
    await wrong('jan@example.test', '2001:db8:0:1::1', 1);
  });
});
