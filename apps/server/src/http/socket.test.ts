import { once } from 'node:events';
import { type IncomingHttpHeaders, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { createLog } from '../log.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';
import { httpServer } from './http-server.ts';
import { maxBodyBytes } from './json-bodies.ts';

/** What Node makes of a request differs from what `fetch` does: these go over a real socket. */
let stage: TestApp;
let server: Server;
let port: number;
let head: Person;
let staff: string;

beforeAll(async () => {
  stage = await startApp();
  head = await stage.person('Head');
  staff = await head.foundsStaff('Alder');
  server = httpServer(stage.app.fetch);
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  port = (server.address() as AddressInfo).port;
});
afterAll(async () => {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
});

interface Answer {
  status: number;
  headers: IncomingHttpHeaders;
  text: string;
}

function ask(
  method: string,
  path: string,
  { headers = {}, body }: { headers?: Record<string, string>; body?: string } = {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const sent = request(
      { host: '127.0.0.1', port, method, path, headers: { cookie: head.cookie, ...headers } },
      (answer) => {
        let text = '';
        answer.setEncoding('utf8').on('data', (part: string) => {
          text += part;
        });
        answer.on('end', () =>
          resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text }),
        );
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });
}

describe('over a socket', () => {
  it('a DELETE without a body is not asked for its type', async () => {
    const path = `/api/staffs/${staff}/invitations/none`;
    expect(await ask('DELETE', path)).toMatchObject({ status: 404 });
    const empty = { 'content-length': '0' };
    expect(await ask('DELETE', path, { headers: empty })).toMatchObject({ status: 404 });
  });

  it('a DELETE without a body does what it says', async () => {
    const made = await head.gets(
      z.object({ id: z.string() }),
      'POST',
      `/api/staffs/${staff}/invitations`,
      { role: 'assistant', group: 'all' },
    );
    const path = `/api/staffs/${staff}/invitations/${made.id}`;
    expect(await ask('DELETE', path)).toMatchObject({ status: 204, text: '' });
  });

  it('a POST without a body is not asked for its type, nor one of empty chunks', async () => {
    const path = `/api/invitations/${'A'.repeat(43)}/accept`;
    expect(await ask('POST', path)).toMatchObject({ status: 404 });
    const chunked = { 'transfer-encoding': 'chunked' };
    expect(await ask('POST', path, { headers: chunked })).toMatchObject({ status: 404 });
  });

  it('a body of another type, or of none, is told so', async () => {
    const body = '{"name":"x"}';
    for (const headers of [{}, { 'content-type': 'text/plain' }]) {
      const answer = await ask('POST', '/api/staffs', { headers, body });
      expect(answer.status).toBe(415);
      expect(answer.headers['content-type']).toBe('application/problem+json');
    }
    const typed = { 'content-type': 'application/json; charset=utf-8' };
    expect((await ask('POST', '/api/staffs', { headers: typed, body })).status).toBe(201);
  });

  it('a body that grows past the limit without saying its length is cut off', async () => {
    const headers = { 'content-type': 'application/json', 'transfer-encoding': 'chunked' };
    const body = JSON.stringify({ name: 'x'.repeat(maxBodyBytes) });
    expect((await ask('POST', '/api/staffs', { headers, body })).status).toBe(413);
  });

  it.each([
    [
      'headers without end',
      431,
      `GET /api/me HTTP/1.1\r\nhost: x\r\ncookie: ${'a'.repeat(40_000)}`,
    ],
    ['no HTTP at all', 400, 'HELO stemline'],
    ['a host that is none', 400, 'GET /api/me HTTP/1.1\r\nhost: a b\r\nconnection: close'],
    ['no host', 400, 'GET /api/me HTTP/1.1\r\nconnection: close'],
    [
      'two lengths',
      400,
      'POST /api/me HTTP/1.1\r\nhost: x\r\ncontent-length: 3\r\ntransfer-encoding: chunked',
    ],
  ])('%s: answered with a problem before there is a request', async (_, status, said) => {
    const socket = connect(port, '127.0.0.1');
    socket.write(`${said}\r\n\r\n`);
    const [first] = (await once(socket, 'data')) as [Buffer];
    const answer = first.toString();
    expect(answer).toMatch(new RegExp(`^HTTP/1\\.1 ${status} `));
    expect(answer.toLowerCase()).toContain('content-type: application/problem+json');
    socket.destroy();
  });

  it('who is answered so and does not hang up is cut off', async () => {
    const socket = connect({ port, host: '127.0.0.1', allowHalfOpen: true });
    socket.write('HELO stemline\r\n\r\n');
    socket.resume();
    const held = () =>
      new Promise<number>((resolve) => server.getConnections((_, n) => resolve(n)));
    await once(socket, 'end');
    const before = await held();
    await expect.poll(held, { timeout: 10_000 }).toBe(before - 1);
    socket.destroy();
  });

  it('every answer carries the headers that keep other sites out', async () => {
    for (const path of ['/healthz', '/api/me', '/api/nothing', '/openapi.json']) {
      const { headers } = await ask('GET', path);
      expect(headers, path).toMatchObject({
        'x-content-type-options': 'nosniff',
        'x-frame-options': 'DENY',
        'referrer-policy': 'no-referrer',
      });
      expect(headers['content-security-policy'], path).toContain("frame-ancestors 'none'");
      expect(headers['access-control-allow-origin'], path).toBeUndefined();
    }
  });

  it('a page of another site may not even ask whether it might', async () => {
    const foreign = { origin: 'https://evil.example', 'access-control-request-method': 'POST' };
    const answer = await ask('OPTIONS', '/api/staffs', { headers: foreign });
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    const body = '{"name":"x"}';
    const typed = { 'content-type': 'application/json', origin: 'https://evil.example' };
    expect((await ask('POST', '/api/staffs', { headers: typed, body })).status).toBe(403);
  });
});

describe('who hangs up in the middle of what he sends', () => {
  const lines: { level: number; msg: string; status?: number }[] = [];
  const log = createLog('trace', { write: (line: string) => lines.push(JSON.parse(line)) });
  let watched: Server;
  let sender: Person;

  beforeAll(async () => {
    const { app, person } = await startApp({ log });
    sender = await person('Sender');
    watched = httpServer(app.fetch);
    watched.listen(0, '127.0.0.1');
    await once(watched, 'listening');
  });
  afterAll(() => new Promise((resolve) => watched.close(resolve)));

  it.each(['/api/staffs', '/api/staffs/import', '/api/auth/sign-in/email'])(
    'is no fault of the server’s (%s)',
    async (path) => {
      lines.length = 0;
      const { port: at } = watched.address() as AddressInfo;
      const socket = connect(at, '127.0.0.1');
      socket.on('error', () => undefined);
      const head = [
        `POST ${path} HTTP/1.1`,
        'host: x',
        `cookie: ${sender.cookie}`,
        'content-type: application/json',
        'content-length: 1000',
      ];
      const begun = once(watched, 'request');
      socket.write(`${head.join('\r\n')}\r\n\r\n{"name":`);
      await begun;
      socket.destroy();
      await expect.poll(() => lines.filter(({ msg }) => msg === 'request')).toHaveLength(1);
      expect(lines.filter(({ level }) => level >= 50)).toEqual([]);
      expect(lines.find(({ msg }) => msg === 'request')?.status).toBe(400);
    },
  );
});
