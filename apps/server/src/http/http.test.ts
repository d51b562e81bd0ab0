import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pino from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createAuth } from '../accounts/auth.ts';
import { sessionReader } from '../accounts/session.ts';
import { createApp } from '../api/app.ts';
import { api } from '../api/context.ts';
import { answerError } from '../api/errors.ts';
import { openDatabase } from '../database.ts';
import { readEnv } from '../env.ts';
import { readMigrations } from '../migrations/folder.ts';
import { whyUnready } from '../migrations/unready.ts';
import { startApp, type TestApp } from '../testing/app.ts';
import type { Person } from '../testing/person.ts';
import { quickPasswords } from '../testing/quick-passwords.ts';
import { addressHeader, clientAddress } from './client-address.ts';
import { maxAccountBytes, maxBodyBytes } from './json-bodies.ts';
import { requestLimit } from './request-limit.ts';

let stage: TestApp;
let head: Person;
let stranger: Person;
let boards: string;
let webFolder: string;

beforeAll(async () => {
  webFolder = await mkdtemp(join(tmpdir(), 'stemline-web-'));
  await mkdir(join(webFolder, 'assets'));
  await writeFile(join(webFolder, 'index.html'), '<!doctype html><title>Stemline</title>');
  await writeFile(join(webFolder, 'assets', 'page-0a1b.js'), 'export {};');
  await writeFile(join(webFolder, 'mark.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
  stage = await startApp({ webFolder });
  head = await stage.person('Head');
  stranger = stage.stranger();
  boards = `/api/staffs/${await head.foundsStaff('Alder')}/boards`;
});
afterAll(() => rm(webFolder, { recursive: true, force: true }));

describe('a problem', () => {
  it('names every place of a body that does not fit', async () => {
    const problem = await head.isRefused(
      422,
      'POST',
      boards,
      { name: '', formation: 'doubles', code: 'rugby', extra: 1 },
      'invalid',
    );
    expect(problem.where?.map(({ path }) => path).sort()).toEqual([
      'body',
      'body.code',
      'body.name',
    ]);
    expect(problem.mend).not.toBe('');
  });

  it('names the place of a query that does not fit', async () => {
    const problem = await head.isRefused(
      422,
      'GET',
      `${boards}?archived=maybe`,
      undefined,
      'invalid',
    );
    expect(problem.where?.[0]?.path).toBe('query.archived');
  });

  it('answers JSON that is none', async () => {
    await head.isRefused(400, 'POST', boards, '{"name": ', 'malformed');
  });

  it('answers a body that is nested as deep as it is long', async () => {
    const deep = '['.repeat(8_000) + ']'.repeat(8_000);
    await head.isRefused(400, 'POST', boards, deep, 'malformed');
    await stranger.isRefused(400, 'POST', '/api/auth/sign-in/email', deep, 'malformed');
  });

  it('answers a body that is missing', async () => {
    await head.isRefused(400, 'POST', boards, '');
  });

  it('answers a body of another type', async () => {
    const answer = await head.ask('POST', boards, 'name=x', {
      'content-type': 'application/x-www-form-urlencoded',
    });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      415,
      'application/problem+json',
    ]);
  });

  it('answers a body that is too large', async () => {
    const name = 'x'.repeat(maxBodyBytes);
    await head.isRefused(413, 'POST', boards, { name }, 'tooLarge');
    await stranger.isRefused(
      413,
      'POST',
      '/api/auth/sign-in/email',
      { email: name, password: name },
      'tooLarge',
    );
  });

  it.each(['a\0b', 'half \ud83c'])('answers text that cannot be stored (%j)', async (name) => {
    const problem = await head.isRefused(
      422,
      'POST',
      boards,
      { name, formation: 'doubles', code: 'college' },
      'invalid',
    );
    expect(problem.where?.[0]?.path).toBe('body.name');
    await head.isRefused(422, 'POST', '/api/auth/sign-up/email', {
      name,
      email: 'x@example.test',
      password: 'long enough',
    });
  });

  it('answers a query with NUL, and ids that no database would take', async () => {
    await head.isRefused(422, 'GET', `${boards}?search=%00`, undefined, 'invalid');
    await head.isRefused(404, 'GET', '/api/boards/%00');
    await head.isRefused(404, 'GET', '/api/boards/..%2f..%2fetc');
    for (const path of ['members/%00', 'invitations/%00', 'looks/%00', 'members/%F0%9F%8F%88'])
      await head.isRefused(422, 'DELETE', boards.replace('boards', path), undefined, 'invalid');
  });

  it.each(['0000-01-01T00:00:00Z', '0001-01-01T00:00:00+01:00'])(
    'answers a time that no database knows (%s)',
    async (time) => {
      const board = await head.drawsUp(boards.split('/')[3] ?? '', 'Timeless');
      const at = `/api/boards/${board}/at?time=${encodeURIComponent(time)}`;
      await head.isRefused(422, 'GET', at, undefined, 'invalid');
      await head.isRefused(422, 'POST', `/api/boards/${board}/restore`, { time }, 'invalid');
    },
  );

  it('answers what the API does not have', async () => {
    await head.isRefused(404, 'GET', '/api/nothing', undefined, 'notFound');
    await head.isRefused(404, 'PUT', boards, {}, 'notFound');
    await head.isRefused(404, 'POST', '/api/auth/forget-password', {}, 'notFound');
  });

  it('of ours shows nothing of what went wrong inside', async () => {
    const broken = await startApp({
      sessionOf: () => Promise.reject(new Error('secret detail of /etc/somewhere')),
    });
    const answer = await broken.stranger().ask('GET', '/api/me');
    expect(answer.status).toBe(500);
    expect(answer.headers.get('content-type')).toBe('application/problem+json');
    expect(answer.text).not.toMatch(/secret|\.ts|stack/);
    expect(answer.text).toContain(answer.headers.get('x-request-id'));
  });
});

describe('a body', () => {
  it('is not read of who is not signed in', async () => {
    for (const body of ['{"name":', '{"name":"Alder"}', 'x'.repeat(1_000)])
      await stranger.isRefused(401, 'POST', '/api/staffs', body, 'notSignedIn');
    await head.isRefused(400, 'POST', '/api/staffs', '{"name":', 'malformed');
  });

  it('changes nothing when the session ended while it was on its way', async () => {
    const slow = await stage.person('Slow');
    const { cookie } = slow;
    const sent = new TextEncoder().encode('{"name":"After the end"}');
    const body = new ReadableStream(
      {
        // Asked for once it is known who sends it.
        pull: async (sending) => {
          await slow.ask('POST', '/api/auth/revoke-sessions', {});
          sending.enqueue(sent);
          sending.close();
        },
      },
      { highWaterMark: 0 },
    );
    const headers = {
      host: 'stemline.test',
      cookie,
      'content-type': 'application/json',
      'content-length': String(sent.byteLength),
    };
    const wish = { method: 'POST', headers, body, duplex: 'half' } as const;
    const answer = await stage.app.fetch(new Request('http://stemline.test/api/staffs', wish), {});
    expect(answer.status).toBe(401);
    expect(await stage.prisma.staff.count({ where: { name: 'After the end' } })).toBe(0);
  });

  it('of who need not be signed in may be as long as an account needs, and no longer', async () => {
    const long = { padding: 'x'.repeat(maxAccountBytes) };
    for (const path of ['sign-out', 'sign-in/email', 'sign-up/email', 'nothing'])
      await stranger.isRefused(413, 'POST', `/api/auth/${path}`, long, 'tooLarge');
    await head.isRefused(422, 'POST', '/api/staffs', long, 'invalid');
  });

  it('of more values than anything sent has is refused before it is looked at', async () => {
    const many = { name: Array.from({ length: 30_000 }, () => []) };
    await head.isRefused(413, 'POST', '/api/staffs', many, 'tooLarge');
    await stranger.isRefused(413, 'POST', '/api/auth/sign-in/email', many, 'tooLarge');
  });
});

describe('while the database is away', () => {
  it('everything that needs it answers that it may be tried again', async () => {
    const log = pino({ level: 'silent' });
    // Nobody listens there.
    const prisma = openDatabase('postgresql://nobody@127.0.0.1:1/nothing', () => undefined);
    const auth = createAuth({
      prisma,
      log,
      secret: 'a secret for tests that is long enough',
      publicUrl: null,
    });
    const migrations = await readMigrations();
    const away = await startApp({
      prisma,
      auth,
      sessionOf: sessionReader(auth),
      unready: () => whyUnready(prisma, migrations),
    });
    const { cookie } = head;
    const answers = [];
    for (const [method, path, body] of [
      ['GET', '/api/me', undefined],
      ['GET', boards, undefined],
      ['POST', '/api/staffs', { name: 'Alder Point' }],
      ['POST', '/api/auth/sign-in/email', { email: 'ada@example.test', password: 'long enough' }],
      [
        'POST',
        '/api/auth/sign-up/email',
        { name: 'Ada Holm', email: 'ada@example.test', password: 'long enough, really' },
      ],
      ['POST', '/api/auth/sign-out', {}],
    ] as const) {
      const answer = await away.stranger().ask(method, path, body, cookie ? { cookie } : {});
      answers.push(`${path} ${answer.status} ${answer.headers.get('content-type')}`);
      expect(answer.text).not.toMatch(/127\.0\.0\.1|ECONN|nobody/);
    }
    expect(answers.filter((told) => !told.endsWith(' 503 application/problem+json'))).toEqual([]);
    await prisma.$disconnect();
  });
});

describe('a page of another site', () => {
  it('changes nothing', async () => {
    const foreign = { origin: 'https://evil.example' };
    for (const path of ['/api/staffs', '/api/auth/sign-in/email', '/api/auth/sign-out']) {
      const answer = await head.ask('POST', path, { name: 'x' }, foreign);
      expect([path, answer.status]).toEqual([path, 403]);
      expect(answer.text).toContain('foreignOrigin');
    }
    const opaque = await head.ask('POST', '/api/staffs', { name: 'x' }, { origin: 'null' });
    expect(opaque.status).toBe(403);
  });

  it('is known by its fetch metadata where it sends no origin', async () => {
    const { cookie } = head;
    const send = (site: Record<string, string>) =>
      stage.app.fetch(
        new Request('http://stemline.test/api/staffs', {
          method: 'POST',
          headers: { host: 'stemline.test', cookie, 'content-type': 'application/json', ...site },
          body: '{"name":"x"}',
        }),
        {},
      );
    expect((await send({ 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await send({ 'sec-fetch-site': 'same-site' })).status).toBe(403);
    expect((await send({})).status).toBe(201);
  });

  it('is any but those named when addresses are named', async () => {
    const named = await startApp({ publicUrl: ['https://stemline.example'] });
    const there = named.stranger();
    const body = { email: 'x@example.test', password: 'long enough' };
    const own = await there.ask('POST', '/api/auth/sign-in/email', body);
    expect(own.text).toContain('foreignOrigin');
    const asNamed = await there.ask('POST', '/api/auth/sign-in/email', body, {
      origin: 'https://stemline.example',
    });
    expect(asNamed.text).not.toContain('foreignOrigin');
  });
});

describe('limits', () => {
  it('answer 429 with when to come back', async () => {
    const limited = await startApp({ requestsPerMinute: 3 });
    const eager = limited.stranger();
    for (let i = 0; i < 3; i++) expect((await eager.ask('GET', '/healthz')).status).toBe(200);
    const answer = await eager.ask('GET', '/healthz');
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      429,
      'application/problem+json',
    ]);
    expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0);
  });
});

describe('a limit', () => {
  it('is refilled evenly: who comes slowly may come for ever', async () => {
    let now = 0;
    const app = api();
    app.onError(answerError);
    app.use(clientAddress(false));
    app.use(requestLimit(2, 'requests', () => now));
    app.get('/', (c) => c.text('here'));
    for (let i = 0; i < 50; i++, now += 30_000)
      expect((await app.request('/', {}, {})).status).toBe(200);
    now += 30_000;
    const atOnce = [
      await app.request('/', {}, {}),
      await app.request('/', {}, {}),
      await app.request('/', {}, {}),
    ];
    expect(atOnce.map(({ status }) => status)).toEqual([200, 200, 429]);
    expect(atOnce[2]?.headers.get('retry-after')).toBe('30');
  });
});

describe('sign-in', () => {
  it('is no limit on a school that comes in by one address', async () => {
    const limited = await startApp({ signInsPerMinute: readEnv({}).SIGN_INS_PER_MINUTE });
    const somebody = limited.stranger();
    for (let i = 0; i < 250; i++)
      expect((await somebody.ask('POST', '/api/auth/sign-in/email', {})).status).toBe(422);
  });

  it('is limited by address, which a client cannot make up', async () => {
    const body = { email: 'nobody@example.test', password: 'a wrong password' };
    const tries = async (trustProxy: boolean, header: (i: number) => string): Promise<number[]> => {
      const app = createApp({ ...stage.deps, signInsPerMinute: 2, trustProxy });
      const statuses: number[] = [];
      for (let i = 0; i < 3; i++) {
        const request = new Request('http://stemline.test/api/auth/sign-in/email', {
          method: 'POST',
          headers: {
            'content-type': 'application/json',
            'x-forwarded-for': header(i),
            [addressHeader]: header(i),
          },
          body: JSON.stringify(body),
        });
        const incoming = { socket: { remoteAddress: '192.0.2.7' } } as IncomingMessage;
        statuses.push((await app.fetch(request, { incoming })).status);
      }
      return statuses;
    };
    expect(await tries(false, (i) => `198.51.100.${i}`)).toEqual([401, 401, 429]);
    expect(await tries(true, (i) => `198.51.100.${i}, 203.0.113.5`)).toEqual([401, 401, 429]);
    expect(await tries(true, (i) => `203.0.113.${10 + i}`)).toEqual([401, 401, 401]);
    expect(await tries(true, (i) => `2001:db8:1:2::${i}`)).toEqual([401, 401, 429]);
    expect(await tries(true, (i) => `2001:db8:1:${i}::1`)).toEqual([401, 401, 401]);
  });

  it('sets cookies for https only where every address is https', async () => {
    const secure = createAuth({
      prisma: stage.prisma,
      log: stage.deps.log,
      secret: 'a secret for tests that is long enough',
      publicUrl: ['https://stemline.example'],
      passwords: quickPasswords,
    });
    const app = createApp({ ...stage.deps, auth: secure, publicUrl: ['https://stemline.example'] });
    const answer = await app.fetch(
      new Request('http://inside:4600/api/auth/sign-in/email', {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin: 'https://stemline.example' },
        body: JSON.stringify({ email: head.email, password: head.password }),
      }),
      {},
    );
    expect(answer.status).toBe(200);
    expect(answer.headers.getSetCookie()[0]).toMatch(/^__Secure-stemline.*; Secure/);
  });
});

describe('readiness', () => {
  it('says so when the database can serve, and why when it cannot', async () => {
    expect((await stranger.ask('GET', '/readyz')).status).toBe(200);
    await stage.prisma.$executeRaw`UPDATE _prisma_migrations SET rolled_back_at = now()`;
    const problem = await stranger.isRefused(503, 'GET', '/readyz', undefined, 'notReady');
    expect(problem.detail).toMatch(/lacks \d/);
    await stage.prisma.$executeRaw`UPDATE _prisma_migrations SET rolled_back_at = NULL`;
    expect((await stranger.ask('GET', '/healthz')).status).toBe(200);
  });
});

describe('the web app', () => {
  it.each(['/', '/sign-in', '/boards/abc/signed'])(
    'shows its one page at %s, asked for anew each time',
    async (path) => {
      const answer = await stranger.ask('GET', path);
      expect([answer.status, answer.text]).toEqual([200, '<!doctype html><title>Stemline</title>']);
      expect(answer.headers.get('cache-control')).toBe('no-cache');
      const policy = answer.headers.get('content-security-policy') ?? '';
      expect(policy).toContain("default-src 'self'");
      expect(policy).not.toMatch(/script-src|unsafe-eval/);
      expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    },
  );

  it('keeps files named by their content for good, and has no page in place of a missing one', async () => {
    const file = await stranger.ask('GET', '/assets/page-0a1b.js');
    expect(file.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    await stranger.isRefused(404, 'GET', '/assets/page-gone.js');
    expect((await stranger.ask('GET', '/mark.svg')).headers.get('content-type')).toBe(
      'image/svg+xml; charset=utf-8',
    );
  });

  it.each(['/../package.json', '/..%2f..%2fetc/passwd', '/%2e%2e/%2e%2e/etc/passwd'])(
    'never leaves its folder (%s)',
    async (path) => {
      const answer = await stranger.ask('GET', path);
      expect(answer.text).not.toMatch(/root:|"name"/);
    },
  );
});
