import { once } from 'node:events';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { createAdaptorServer } from '@hono/node-server';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { WebSocket } from 'ws';
import * as Y from 'yjs';
import { z } from 'zod';
import { Metrics } from './http/metrics.ts';
import { createLog } from './log.ts';
import { startApp, type TestApp } from './testing/app.ts';
import type { Person } from './testing/person.ts';

const line = z.looseObject({
  level: z.number(),
  time: z.number(),
  msg: z.string(),
  requestId: z.string().optional(),
  board: z.string().optional(),
  route: z.string().optional(),
});
type Line = z.infer<typeof line>;

/** A log that is kept, whole and line by line. */
function kept() {
  let text = '';
  const log = createLog('trace', {
    write: (chunk: string) => {
      text += chunk;
    },
  });
  return {
    log,
    text: () => text,
    lines: (): Line[] =>
      text
        .split('\n')
        .filter(Boolean)
        .map((each) => line.parse(JSON.parse(each))),
  };
}

describe('an error in the log', () => {
  const written = (error: unknown): string => {
    const { log, text } = kept();
    log.error({ err: error }, 'it failed');
    return text();
  };

  it('has its words, code and cause, and nothing that was hung on it', () => {
    const error = Object.assign(new TypeError('no answer', { cause: new Error('cut') }), {
      code: 'ECONNRESET',
      request: { headers: { cookie: 'secret-of-the-request' } },
    });
    expect(JSON.parse(written(error)).err).toMatchObject({
      type: 'TypeError',
      message: 'no answer',
      code: 'ECONNRESET',
      cause: { type: 'Error', message: 'cut' },
    });
    expect(written(error)).not.toContain('secret-of-the-request');
  });

  it.each([
    'cannot reach postgresql://coach:SECRET-WORD@db:5432/app',
    'bad header cookie: stemline.session_token=SECRET-WORD.abc%3D; path=/',
    'bad header authorization: Bearer SECRET-WORD',
    'no page at https://stemline.example/invitations/SECRET-WORD-of-43-letters-in-all',
  ])('shows no secret that its words hold (%s)', (message) => {
    const text = written(new Error(message));
    expect(text).not.toContain('SECRET-WORD');
    expect(() => JSON.parse(text)).not.toThrow();
  });
});

describe('the log of real requests', () => {
  const log = kept();
  const token = 'the-token-of-the-metrics';
  const password = 'a-password-that-nobody-has';
  const newPassword = 'another-password-nobody-has';
  const secrets = new Map<string, string>();
  let stage: TestApp;
  let server: Server;
  let head: Person;
  let board: string;
  let rooms: string;

  beforeAll(async () => {
    stage = await startApp({ log: log.log, metrics: new Metrics(token) });
    server = createAdaptorServer({ fetch: stage.app.fetch }) as Server;
    server.on('upgrade', stage.rooms.upgrade);
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    rooms = `ws://127.0.0.1:${(server.address() as AddressInfo).port}/rooms`;
    await accounts();
    await broken();
    await sockets();
  });
  afterAll(async () => {
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
  });

  /** Everything somebody may do with a secret over HTTP. */
  async function accounts(): Promise<void> {
    head = await stage.person('Head');
    const other = await stage.person('Other');
    const staff = await head.foundsStaff('Alder');
    board = await head.drawsUp(staff, 'Lantern');
    const { link } = await head.gets(
      z.object({ link: z.string() }),
      'POST',
      `/api/staffs/${staff}/invitations`,
      { role: 'coordinator', group: 'all' },
    );
    const invitation = link.split('/').at(-1) ?? '';
    await stage.stranger().ask('GET', `/api/invitations/${invitation}`);
    await stage.stranger().ask('GET', `/invitations/${invitation}`);
    await stage.stranger().ask('POST', `/api/invitations/${invitation}/nowhere`, {});
    await other.ask('POST', `/api/invitations/${invitation}/accept`);
    await other.ask('POST', `/api/invitations/${invitation}/accept`);
    const { email } = head;
    const signIn = '/api/auth/sign-in/email';
    await stage.stranger().ask('POST', signIn, { email, password });
    await stage.stranger().ask('POST', signIn, `{"email":"${email}","password":"${password}`);
    await stage.stranger().ask('POST', `${signIn}?password=${password}`, { email, password });
    await head.ask('POST', '/api/auth/change-password', {
      currentPassword: head.password,
      newPassword,
      revokeOtherSessions: true,
    });
    await head.signIn(newPassword);
    await stage.stranger().ask('GET', '/metrics', undefined, { authorization: `Bearer ${token}` });
    await stage
      .stranger()
      .ask('GET', '/api/me', undefined, { authorization: `Bearer ${password}` });
    note('password', head.password, password, newPassword);
    note('invitation', invitation);
    note('metrics token', token);
    for (const { token: session, id } of await stage.prisma.session.findMany())
      note('session', session, id);
    for (const { password: hash } of await stage.prisma.account.findMany())
      if (hash) note('password hash', hash);
    for (const { tokenHash } of await stage.prisma.invitation.findMany())
      note('invitation hash', tokenHash);
    for (const { cookie } of [head, other]) note('cookie', cookie, cookie.split('=')[1] ?? '');
  }

  /** What fails on our side, in the middle of a request that carries secrets. */
  async function broken(): Promise<void> {
    const failing = await startApp({
      log: log.log,
      sessionOf: async (headers) => {
        const error = new Error(`cannot look up ${headers.get('cookie')}`);
        throw Object.assign(error, { headers: Object.fromEntries(headers) });
      },
    });
    const { cookie } = head;
    const answer = await failing.stranger().ask('GET', '/api/me', undefined, { cookie });
    expect(answer.status).toBe(500);
    // A query that the database refuses: its error must not say what was asked.
    await stage.prisma.$executeRaw`ALTER TABLE session RENAME TO session_away`;
    expect((await head.ask('GET', '/api/me')).status).toBe(500);
    const socket = new WebSocket(`${rooms}/${board}`, { headers: { cookie: head.cookie } });
    await once(socket, 'error');
    await stage.prisma.$executeRaw`ALTER TABLE session_away RENAME TO session`;
  }

  /** Sockets that are refused, and one that is in and misbehaves. */
  async function sockets(): Promise<void> {
    const open = (cookie: string): WebSocket =>
      new WebSocket(`${rooms}/${board}`, { headers: { cookie } });
    await once(open(`${head.cookie}x`), 'close');
    const malformed = open(head.cookie);
    await once(malformed, 'open');
    malformed.send(Uint8Array.of(77));
    await once(malformed, 'close');
    const hostile = open(head.cookie);
    await once(hostile, 'open');
    const ydoc = new Y.Doc();
    ydoc.getMap('contraband').set('password', newPassword);
    const update = Y.encodeStateAsUpdate(ydoc);
    hostile.send(Uint8Array.of(0, 2, update.byteLength, ...update));
    await once(hostile, 'close');
    await vi.waitFor(() => expect(log.text()).toContain('refused an update'));
  }

  function note(what: string, ...values: string[]): void {
    for (const value of values) {
      expect(value.length, what).toBeGreaterThan(8);
      secrets.set(value, what);
    }
  }

  it('holds no secret', () => {
    expect(secrets.size).toBeGreaterThan(10);
    for (const [secret, what] of secrets) {
      for (const written of [secret, encodeURIComponent(secret), decodeURIComponent(secret)])
        expect(log.text().includes(written), what).toBe(false);
    }
  });

  it('is a line of JSON for every request, with its id and the pattern of its route', () => {
    const requests = log.lines().filter(({ msg }) => msg === 'request');
    expect(requests.length).toBeGreaterThan(15);
    for (const { requestId, route } of requests) {
      expect(requestId).toMatch(/^[\da-f-]{36}$/);
      expect(route).toMatch(/^\//);
    }
    expect(requests.map(({ route }) => route)).toContain('/api/invitations/:token');
    expect(new Set(requests.map(({ requestId }) => requestId)).size).toBe(requests.length);
  });

  it('names the request of every failure', () => {
    const failures = log.lines().filter(({ msg }) => msg === 'a request failed');
    expect(failures.length).toBeGreaterThanOrEqual(2);
    const requests = new Set(
      log.lines().flatMap(({ msg, requestId }) => (msg === 'request' ? [requestId] : [])),
    );
    for (const { requestId } of failures) expect(requests).toContain(requestId);
  });

  it('names board and handshake in every line about a connection', () => {
    for (const what of [
      'refused at the door',
      'cannot decide at the door',
      'turned away',
      'refused an update',
    ]) {
      const about = log.lines().filter(({ msg }) => msg === what);
      expect(about.length, what).toBeGreaterThan(0);
      for (const each of about) {
        expect(each.board, what).toBe(board);
        expect(each.requestId, what).toMatch(/^[\w-]{16}$/);
      }
    }
  });
});
