import { meSchema } from '@stemline/protocol/api/staffs';
import { verifyPassword } from 'better-auth/crypto';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { startApp, type TestApp } from '../testing/app.ts';
import { createAuth } from './auth.ts';

let stage: TestApp;
beforeAll(async () => {
  stage = await startApp();
});

describe('an account', () => {
  it('begins with a sign-up and is known to /api/me', async () => {
    const dana = await stage.person('Dana Whit');
    const me = await dana.gets(meSchema, 'GET', '/api/me');
    expect(me.user).toMatchObject({ name: 'Dana Whit', email: dana.email });
    expect(me.memberships).toEqual([]);
  });

  it('keeps its session in a cookie that scripts cannot read and other sites do not send', async () => {
    const someone = stage.stranger();
    const answer = await someone.ask('POST', '/api/auth/sign-up/email', {
      name: 'Cookie',
      email: 'cookie@example.test',
      password: 'long enough to pass',
    });
    const [cookie] = answer.headers.getSetCookie();
    expect(cookie).toMatch(/HttpOnly/i);
    expect(cookie).toMatch(/SameSite=Lax/i);
    expect(cookie).toMatch(/Path=\//i);
  });

  it('keeps a password as its scrypt hash, where nobody says otherwise', async () => {
    const { prisma, log } = stage.deps;
    const auth = createAuth({
      prisma,
      log,
      secret: 'a secret of thirty-two characters',
      publicUrl: null,
    });
    const body = { name: 'Sal', email: 'sal@example.test', password: 'long enough to pass' };
    const { user } = await auth.api.signUpEmail({ body });
    const { password: hash } = await prisma.account.findFirstOrThrow({
      where: { userId: user.id },
    });
    expect(await verifyPassword({ hash: hash ?? '', password: body.password })).toBe(true);
    expect(await verifyPassword({ hash: hash ?? '', password: 'long enough, but wrong' })).toBe(
      false,
    );
    expect((await auth.api.signInEmail({ body })).user.id).toBe(user.id);
  });

  it('asks for a password of ten characters', async () => {
    const answer = await stage.stranger().ask('POST', '/api/auth/sign-up/email', {
      name: 'Short',
      email: 'short@example.test',
      password: 'ninechars',
    });
    expect(answer.status).toBe(422);
    expect(JSON.parse(answer.text)).toMatchObject({ where: [{ path: 'body.password' }] });
  });

  it('takes no name that is none, when it is made or later', async () => {
    const ada = await stage.person('Ada');
    for (const name of [0, [], {}, true, '', '   ', 'x'.repeat(81)]) {
      const later = await ada.ask('POST', '/api/auth/update-user', { name });
      const made = await stage.stranger().ask('POST', '/api/auth/sign-up/email', {
        name,
        email: 'names@example.test',
        password: 'long enough to pass',
      });
      for (const { status, text } of [later, made]) {
        expect(status).toBe(422);
        expect(JSON.parse(text)).toMatchObject({
          where: expect.arrayContaining([expect.objectContaining({ path: 'body.name' })]),
        });
      }
    }
    expect((await ada.gets(meSchema, 'GET', '/api/me')).user.name).toBe('Ada');
  });

  it('keeps nothing that its contract does not name', async () => {
    const ada = await stage.person('Adam');
    const sent = { name: 'Ada Reed', image: 'x'.repeat(1000) };
    expect((await ada.ask('POST', '/api/auth/update-user', sent)).status).toBe(200);
    const kept = await stage.prisma.user.findUniqueOrThrow({ where: { email: ada.email } });
    expect(kept).toMatchObject({ name: 'Ada Reed', image: null });
  });

  it('does not say whether an e-mail or a password was wrong', async () => {
    const ben = await stage.person('Ben');
    const wrongPassword = await stage.stranger().ask('POST', '/api/auth/sign-in/email', {
      email: ben.email,
      password: 'not his password',
    });
    const wrongEmail = await stage.stranger().ask('POST', '/api/auth/sign-in/email', {
      email: 'nobody@example.test',
      password: 'not his password',
    });
    expect(wrongPassword.status).toBe(401);
    expect([wrongEmail.status, wrongEmail.text]).toEqual([401, wrongPassword.text]);
  });

  it('ends its session at sign-out, and the rooms are told', async () => {
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    const cleo = await stage.person('Cleo');
    const me = await cleo.gets(meSchema, 'GET', '/api/me');
    const before = cleo.cookie;
    expect((await cleo.ask('POST', '/api/auth/sign-out', {})).status).toBe(200);
    expect(told).toHaveBeenLastCalledWith({ userId: me.user.id });
    cleo.cookie = before;
    await cleo.isRefused(401, 'GET', '/api/me', undefined, 'notSignedIn');
    told.mockRestore();
  });

  it('can be signed out everywhere at once', async () => {
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    const phone = await stage.person('Drew');
    const first = phone.cookie;
    await phone.signIn();
    expect(phone.cookie).not.toBe(first);
    expect((await phone.ask('POST', '/api/auth/revoke-sessions', {})).status).toBe(200);
    expect(told).toHaveBeenCalledTimes(1);
    for (const cookie of [first, phone.cookie]) {
      phone.cookie = cookie;
      await phone.isRefused(401, 'GET', '/api/me', undefined, 'notSignedIn');
    }
    told.mockRestore();
  });

  it('ends with the password that it was begun with, unless it is asked to stay', async () => {
    const told = vi.spyOn(stage.rooms, 'accessChanged');
    const gil = await stage.person('Gil');
    const other = gil.cookie;
    const changes = async (currentPassword: string, newPassword: string, more = {}) => {
      const change = { currentPassword, newPassword, ...more };
      expect((await gil.ask('POST', '/api/auth/change-password', change)).status).toBe(200);
    };
    const statusOfOther = async () =>
      (await gil.ask('GET', '/api/me', undefined, { cookie: other })).status;
    await gil.signIn();
    await changes(gil.password, 'an even longer one', { revokeOtherSessions: false });
    expect(await statusOfOther()).toBe(200);
    await changes('an even longer one', 'the longest one of all');
    expect(await statusOfOther()).toBe(401);
    expect(told).toHaveBeenCalledTimes(2);
    told.mockRestore();
  });

  it('takes a new password, and the other sessions end when that is asked', async () => {
    const eve = await stage.person('Eve');
    const other = eve.cookie;
    await eve.signIn();
    const change = {
      currentPassword: eve.password,
      newPassword: 'an even longer one',
      revokeOtherSessions: true,
    };
    expect((await eve.ask('POST', '/api/auth/change-password', change)).status).toBe(200);
    eve.cookie = other;
    await eve.isRefused(401, 'GET', '/api/me');
    eve.cookie = '';
    const old = await eve.ask('POST', '/api/auth/sign-in/email', {
      email: eve.email,
      password: eve.password,
    });
    expect(old.status).toBe(401);
    await eve.signIn('an even longer one');
    expect((await eve.ask('GET', '/api/me')).status).toBe(200);
  });

  it('is nobody with a made-up cookie', async () => {
    const liar = stage.stranger();
    liar.cookie = 'stemline.session_token=abc.def';
    await liar.isRefused(401, 'GET', '/api/me');
  });
});
