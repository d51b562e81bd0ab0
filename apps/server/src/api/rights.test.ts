import { threadSchema } from '@stemline/protocol/api/comments';
import { type Action, may } from '@stemline/protocol/permissions';
import { problemSchema } from '@stemline/protocol/problem';
import { type Role, roleSchema } from '@stemline/protocol/roles';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';

/**
 * Every route and the right it asks for; `signed in`: any account; `own session`: the same, answered by
 * the accounts library; `operator`: whoever runs the server, no member by his role (tried beside the
 * route); `anyone`: no session.
 */
const routes: Record<string, Action | 'signed in' | 'own session' | 'operator' | 'anyone'> = {
  'GET /healthz': 'anyone',
  'GET /readyz': 'anyone',
  'GET /metrics': 'operator',
  'GET /api/me': 'signed in',
  'POST /api/auth/sign-up/email': 'anyone',
  'POST /api/auth/sign-in/email': 'anyone',
  'POST /api/auth/sign-out': 'anyone',
  'POST /api/auth/revoke-sessions': 'own session',
  'POST /api/auth/revoke-other-sessions': 'own session',
  'POST /api/auth/change-password': 'own session',
  'POST /api/auth/update-user': 'own session',
  'GET /api/auth/get-session': 'anyone',
  'POST /api/staffs': 'signed in',
  'GET /api/staffs/{staff}/members': 'member.read',
  'PATCH /api/staffs/{staff}/members/{member}': 'member.change',
  'DELETE /api/staffs/{staff}/members/{member}': 'member.change',
  'GET /api/staffs/{staff}/invitations': 'member.invite',
  'POST /api/staffs/{staff}/invitations': 'member.invite',
  'DELETE /api/staffs/{staff}/invitations/{invitation}': 'member.invite',
  'GET /api/invitations/{token}': 'anyone',
  'POST /api/invitations/{token}/accept': 'signed in',
  'GET /api/staffs/{staff}/boards': 'book.read',
  'POST /api/staffs/{staff}/boards': 'board.create',
  'GET /api/boards/{board}': 'book.read',
  'PATCH /api/boards/{board}': 'board.archive',
  'POST /api/boards/{board}/duplicate': 'board.create',
  'GET /api/boards/{board}/let-in': 'board.letIn',
  'PUT /api/boards/{board}/let-in': 'board.letIn',
  'GET /api/boards/{board}/findings/history': 'finding.read',
  'GET /api/boards/{board}/history': 'board.open',
  'GET /api/boards/{board}/at': 'board.open',
  'POST /api/boards/{board}/restore': 'board.editAll',
  'GET /api/boards/{board}/threads': 'comment.read',
  'POST /api/boards/{board}/threads': 'comment.write',
  'POST /api/threads/{thread}/comments': 'comment.write',
  'PATCH /api/threads/{thread}': 'comment.resolve',
  'PATCH /api/comments/{comment}': 'comment.write',
  'DELETE /api/comments/{comment}': 'comment.write',
  'GET /api/boards/{board}/changes': 'change.read',
  'GET /api/staffs/{staff}/changes': 'change.read',
  'POST /api/boards/{board}/changes': 'change.sendUp',
  'GET /api/changes/{change}/play': 'change.read',
  'POST /api/changes/{change}/decision': 'change.decide',
  'POST /api/changes/{change}/withdraw': 'change.sendUp',
  'POST /api/boards/{board}/waivers': 'finding.waive',
  'DELETE /api/boards/{board}/waivers': 'finding.waive',
  'GET /api/boards/{board}/versions': 'version.read',
  'GET /api/versions/{version}': 'version.read',
  'GET /api/boards/{board}/signed': 'version.read',
  'GET /api/staffs/{staff}/looks': 'look.read',
  'POST /api/staffs/{staff}/looks': 'look.edit',
  'PUT /api/staffs/{staff}/looks/{look}': 'look.edit',
  'POST /api/staffs/{staff}/looks/{look}/move': 'look.edit',
  'DELETE /api/staffs/{staff}/looks/{look}': 'look.edit',
  'GET /api/staffs/{staff}/audit': 'audit.read',
  'GET /api/staffs/{staff}/export': 'staff.export',
  'POST /api/staffs/import': 'signed in',
};

const isRight = (needed: (typeof routes)[string]): needed is Action =>
  needed !== 'anyone' &&
  needed !== 'operator' &&
  needed !== 'signed in' &&
  needed !== 'own session';

const guarded = Object.entries(routes).flatMap(([route, right]) =>
  isRight(right) ? [{ route, right }] : [],
);

let stage: TestApp;
let roles: Record<Role, Person>;
let stranger: Person;
let otherHead: Person;
/** Was head coach of the same staff until he was removed; his session goes on. */
let removed: Person;
/** A head coach of the same staff whose session has run out. */
let expired: Person;
let fill: (path: string) => string;

beforeAll(async () => {
  stage = await startApp();
  const head = await stage.person('Head');
  const staff = await head.foundsStaff('Own');
  const joined = async (role: Role): Promise<Person> => {
    const person = await stage.person(`The ${role}`);
    await head.letsJoin(person, staff, role);
    return person;
  };
  roles = {
    headCoach: head,
    coordinator: await joined('coordinator'),
    positionCoach: await joined('positionCoach'),
    assistant: await joined('assistant'),
    player: await joined('player'),
  };
  otherHead = await stage.person('Other head');
  await otherHead.foundsStaff('Other');
  stranger = stage.stranger();
  const board = await head.drawsUp(staff, 'Sail');
  removed = await stage.person('Removed');
  const formerId = await head.letsJoin(removed, staff, 'headCoach');
  // Nobody who is tried wrote it, so that it stays for the next one.
  const thread = await removed.gets(threadSchema, 'POST', `/api/boards/${board}/threads`, {
    anchor: '',
    text: 'Why?',
  });
  await head.does('DELETE', `/api/staffs/${staff}/members/${formerId}`);
  expired = await joined('headCoach');
  await stage.prisma.session.updateMany({
    where: { user: { email: expired.email } },
    data: { expiresAt: new Date(Date.now() - 1000) },
  });

  const withId = z.object({ id: z.string() });
  const change = await head.gets(withId, 'POST', `/api/boards/${board}/changes`, { message: '' });
  await head.gets(withId, 'POST', `/api/changes/${change.id}/decision`, { decision: 'signOff' });
  const version = await stage.prisma.version.findFirstOrThrow();
  const values: Record<string, string> = {
    staff,
    board,
    thread: thread.id,
    comment: thread.comments[0]?.id ?? '',
    change: change.id,
    version: version.id,
    // Within the own staff, but nobody's: what may be done is tried without anything being done.
    member: 'nobody',
    invitation: 'none',
    look: 'none',
    token: 'A'.repeat(43),
  };
  fill = (path) => path.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? name);
});

const descriptionSchema = z.object({
  paths: z.record(z.string(), z.record(z.string(), z.object({ 'x-right': z.string().nullish() }))),
});

/** A body that no contract takes: whoever gets as far as 422 was let through. */
const bodyFor = (method: string): unknown =>
  method === 'GET' || method === 'DELETE' ? undefined : { nonsense: true };

const rightLacked = (text: string): string | undefined =>
  problemSchema.parse(JSON.parse(text)).right;

const split = (route: string): [method: string, path: string] => {
  const [method = '', path = ''] = route.split(' ');
  return [method, fill(path)];
};

describe('/openapi.json', () => {
  it('lists every route with the right it asks for, and no route besides', async () => {
    const { paths } = await stranger.gets(descriptionSchema, 'GET', '/openapi.json');
    const listed = Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, route]) => [
        `${method.toUpperCase()} ${path}`,
        route['x-right'] ?? null,
      ]),
    );
    const wanted = Object.entries(routes).map(([route, right]) => [
      route,
      isRight(right) ? right : null,
    ]);
    expect(listed.sort()).toEqual(wanted.sort());
  });

  it('is put together once, however often anybody asks: that takes a processor for a while', async () => {
    const { app, stranger: anybody } = await startApp();
    const made = vi.spyOn(app, 'getOpenAPI31Document');
    const asked = () => anybody().ask('GET', '/openapi.json');
    const [first, ...others] = [await asked(), await asked(), await asked()];
    expect(made).toHaveBeenCalledTimes(1);
    expect(first?.headers.get('content-type')).toBe('application/json');
    for (const one of others) expect(one.text).toBe(first?.text);
  });
});

describe.each(guarded)('$route asks for $right', ({ route, right }) => {
  it('and is refused to whoever is not signed in', async () => {
    const [method, path] = split(route);
    await stranger.isRefused(401, method, path, bodyFor(method), 'notSignedIn');
  });

  it('and is not there for another staff, as if it did not exist', async () => {
    const [method, path] = split(route);
    const anothers = await otherHead.isRefused(404, method, path, bodyFor(method), 'notFound');
    const missing = path.replace(
      /\/(staffs|boards|threads|comments|changes|versions)\/[^/]+/,
      '/$1/missing0000',
    );
    expect(missing).not.toBe(path);
    expect(await otherHead.isRefused(404, method, missing, bodyFor(method))).toEqual(anothers);
  });

  it('and is not there any more for who was removed from the staff, his session or not', async () => {
    const [method, path] = split(route);
    await removed.isRefused(404, method, path, bodyFor(method), 'notFound');
  });

  it('and is refused to a head coach whose session has run out', async () => {
    const [method, path] = split(route);
    await expired.isRefused(401, method, path, bodyFor(method), 'notSignedIn');
  });

  it.each(roleSchema.options)('and %s gets what the table of permissions says', async (role) => {
    const [method, path] = split(route);
    const answer = await roles[role].ask(method, path, bodyFor(method));
    const refusedByRight = answer.status === 403 && rightLacked(answer.text) === right;
    expect(refusedByRight, `${answer.status} ${answer.text}`).toBe(!may(role, right));
    expect(answer.status).not.toBe(401);
    expect(answer.status).toBeLessThan(500);
  });
});

describe.each(Object.entries(routes).filter(([, right]) => right === 'signed in'))(
  '%s',
  (route) => {
    it('is for whoever is signed in', async () => {
      const [method, path] = split(route);
      await stranger.isRefused(401, method, path, bodyFor(method), 'notSignedIn');
      await expired.isRefused(401, method, path, bodyFor(method), 'notSignedIn');
      const answer = await otherHead.ask(method, path, bodyFor(method));
      expect([200, 404, 422]).toContain(answer.status);
    });
  },
);

describe.each(Object.entries(routes).filter(([, right]) => right === 'own session'))(
  '%s',
  (route) => {
    it('is for whoever is signed in, as the accounts library tells it', async () => {
      const [method, path] = split(route);
      const body = {
        name: 'Somebody else',
        currentPassword: stranger.password,
        newPassword: 'a new one that is long enough',
      };
      for (const person of [stranger, expired])
        expect([person.name, (await person.ask(method, path, body)).status]).toEqual([
          person.name,
          401,
        ]);
    });
  },
);

describe.each(Object.entries(routes).filter(([, right]) => right === 'anyone'))('%s', (route) => {
  it('is for anyone, and gives no session to who has none', async () => {
    const [method, path] = split(route);
    for (const person of [stranger, expired]) {
      const answer = await person.ask(method, path, bodyFor(method));
      expect(answer.status, answer.text).toBeLessThan(500);
      expect([401, 403]).not.toContain(answer.status);
      expect(
        answer.headers.getSetCookie().filter((line) => /session_token=[^;]/.test(line)),
      ).toEqual([]);
    }
  });
});
