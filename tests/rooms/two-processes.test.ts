import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { type AddressInfo, connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { asPlayerId } from '@stemline/testkit/plays';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import * as Y from 'yjs';
import { z } from 'zod';
import { freePort } from '../../apps/server/src/cluster/free-port.ts';
import { type OwnRedis, startRedis } from '../../apps/server/src/cluster/redis.ts';
import { projectRoot } from '../../apps/server/src/env.ts';
import { type Home, openHome } from './soak/home.ts';
import { missing, replay } from './soak/replay.ts';
import type { Person } from './support/accounts.ts';
import { Coach, until } from './support/coach.ts';
import type { ServerProcess } from './support/process.ts';

const H = asPlayerId('H');
const proxyFile = join(projectRoot, 'apps/server/proxy/haproxy.cfg');
const metricsToken = 'a token for metrics and nothing else';
let redis: OwnRedis;
let home: Home;
let one: ServerProcess;
let other: ServerProcess;
let ada: Person;
let ben: Person;

const startOne = async (): Promise<ServerProcess> =>
  home.start(await freePort(), { REDIS_URL: redis.url, METRICS_TOKEN: metricsToken });

beforeAll(async () => {
  redis = await startRedis();
  home = await openHome();
  ada = await home.person('Ada Holm', 'headCoach');
  ben = await home.person('Ben Ruiz', 'coordinator');
  [one, other] = await Promise.all([startOne(), startOne()]);
}, 180_000);
afterAll(async () => {
  await Promise.all([one?.stop(), other?.stop()]);
  await home?.close();
  await redis?.stop();
}, 60_000);

const nameOf = ({ board }: Coach): string => board.snapshot().board.play.name;
const sees = ({ provider }: Coach, who: Coach): boolean =>
  provider.awareness.getStates().has(who.ydoc.clientID);
const readySchema = z.object({
  status: z.literal('ok'),
  servers: z.object({ redis: z.string(), others: z.number() }),
});
const readiness = async ({ origin }: ServerProcess) =>
  readySchema.parse(await (await fetch(`${origin}/readyz`)).json()).servers;

/** A path as it is written, which `fetch` would tidy up. */
const askPlainly = (port: number, path: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () =>
      socket.write(
        `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1\r\nAuthorization: Bearer ${metricsToken}\r\nConnection: close\r\n\r\n`,
      ),
    );
    let answer = '';
    socket.setEncoding('utf8').on('data', (part: string) => {
      answer += part;
    });
    socket.once('error', reject).once('close', () => resolve(answer));
  });

async function pair(): Promise<{ board: string; a: Coach; b: Coach }> {
  // A server that was killed is heard of for a while.
  for (const server of [one, other]) {
    await expect
      .poll(() => readiness(server), { timeout: 15_000 })
      .toMatchObject({ redis: 'connected', others: 1 });
  }
  const board = await home.board(ada);
  const a = new Coach(one.rooms, board, ada.cookie);
  const b = new Coach(other.rooms, board, ben.cookie);
  await until('both in', () => a.synced && b.synced && a.saved.length > 0, 20_000);
  return { board, a, b };
}

describe('two processes', () => {
  it('R103 R105 R106 R107 edits, presence, findings and comments cross; kill -9 of one ends what it showed', async () => {
    const { board, a, b } = await pair();
    a.board.setName('Lantern');
    b.board.setConcept('Harbour');
    await until(
      'seen by both',
      () => nameOf(b) === 'Lantern' && a.board.snapshot().board.play.concept === 'Harbour',
    );
    await until('present at both', () => sees(a, b) && sees(b, a));
    a.board.movePlayer(H, [-9, 3]);
    await until(
      'found at both',
      () =>
        [a, b].every(({ findings }) =>
          findings?.some(({ finding }) => finding.kind === 'illegalFormation'),
        ),
      20_000,
    );
    const said = await fetch(`${one.origin}/api/boards/${board}/threads`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: one.origin, cookie: ada.cookie },
      body: JSON.stringify({ anchor: '', text: 'Is he on the line?' }),
    });
    expect(said.ok, await said.text()).toBe(true);
    await until('told at the other', () => b.events.some(({ kind }) => kind === 'comments'));
    await until('saved', () => a.isSaved && b.isSaved);

    b.provider.disconnect();
    const back = new Coach(other.rooms, board, ben.cookie);
    await until('there', () => back.synced && sees(a, back));
    await other.kill();
    await until('gone with his server', () => !sees(a, back), 15_000);
    await expect.poll(() => readiness(one), { timeout: 15_000 }).toMatchObject({ others: 0 });
    back.leave();
    other = await startOne();
    for (const coach of [a, b]) coach.leave();
  }, 120_000);

  it.each(['one', 'other'] as const)(
    'R4 R100 R102 kill -9 of the %s under load loses no acknowledged edit, and nobody is turned away',
    async (victim) => {
      const { board, a, b } = await pair();
      let stopped = false;
      const pens = [a, b].map(async (coach) => {
        for (let n = 1; !stopped && n < 4_000; n++) {
          coach.board.setConcept(`${coach.ydoc.clientID} ${n}`);
          await new Promise((resolve) => setTimeout(resolve, 3));
        }
      });
      await until('acknowledged some', () => a.saved.length > 15 && b.saved.length > 15, 30_000);
      await (victim === 'one' ? one : other).kill();
      stopped = true;
      await Promise.all(pens);
      const told = [a, b].map(({ saved }) =>
        Y.decodeStateVector(saved.at(-1)?.stateVector ?? Uint8Array.of(0)),
      );
      const stored = await replay(home.prisma, board);
      for (const vector of told) expect(missing(stored, vector)).toBe(0);
      // Whoever's server is gone goes to the other one, with what he still holds.
      const [leaves, stays] = victim === 'one' ? [a, b] : [b, a];
      leaves.provider.disconnect();
      const { rooms } = victim === 'one' ? other : one;
      const moved = new Coach(rooms, board, (victim === 'one' ? ada : ben).cookie, leaves.ydoc);
      await until('all saved', () => [moved, stays].every((c) => c.synced && c.isSaved), 30_000);
      await until('equal', () =>
        Buffer.from(Y.encodeStateAsUpdate(a.ydoc)).equals(Y.encodeStateAsUpdate(b.ydoc)),
      );
      for (const { closed, refused } of [moved, stays])
        expect([closed, refused]).toEqual([null, []]);
      for (const coach of [a, b, moved]) coach.leave();
      if (victim === 'one') one = await startOne();
      else other = await startOne();
    },
    120_000,
  );
});

describe('docker-compose.yml', () => {
  const serviceSchema = z.looseObject({
    environment: z.record(z.string(), z.unknown()).optional(),
    deploy: z.object({ replicas: z.string() }).optional(),
    ports: z.array(z.string()).optional(),
    volumes: z.array(z.string()).optional(),
  });

  it('runs any number of servers behind one proxy on one Postgres and one Redis', async () => {
    const file = parse(await readFile(join(projectRoot, 'docker-compose.yml'), 'utf8'));
    const { services } = z.object({ services: z.record(z.string(), serviceSchema) }).parse(file);
    expect(Object.keys(services).sort()).toEqual(['app', 'postgres', 'proxy', 'redis']);
    const { app, proxy } = services;
    expect(app?.deploy?.replicas).toBe('$' + '{SERVERS:-2}');
    expect(app?.ports).toBeUndefined();
    expect(app?.environment).toMatchObject({ REDIS_URL: 'redis://redis:6379', TRUST_PROXY: 1 });
    expect(proxy?.ports).toEqual(['127.0.0.1:4600:4600']);
    expect(proxy?.volumes?.[0]?.split(':')[0]).toBe('./apps/server/proxy/haproxy.cfg');
    // Nobody has this address, so nobody may say whom he speaks for.
    expect(proxy?.environment).toEqual({ OUTER_PROXY: '$' + '{OUTER_PROXY:-255.255.255.255}' });
    const env = { ...process.env, OUTER_PROXY: '255.255.255.255' };
    const checked = spawnSync('haproxy', ['-c', '-f', proxyFile], { encoding: 'utf8', env });
    expect(checked.status, `${checked.stdout}${checked.stderr}`).toBe(0);
  });

  it('its proxy says who calls, and believes nobody else but a proxy that is named', async () => {
    const behind = createServer((req, res) => res.end(req.headers['x-forwarded-for']));
    behind.listen(0, '127.0.0.1');
    await once(behind, 'listening');
    const { port: to } = behind.address() as AddressInfo;
    try {
      for (const [outer, told] of [
        ['255.255.255.255', '127.0.0.1'],
        ['127.0.0.1', '192.0.2.7'],
      ] as const) {
        const proxy = await startProxy([`127.0.0.1:${to}`], outer);
        try {
          const ask = () =>
            fetch(`http://127.0.0.1:${proxy.port}/`, {
              headers: { 'x-forwarded-for': '192.0.2.7' },
            }).then((answer) => answer.text());
          await expect.poll(() => ask().catch(() => ''), { timeout: 20_000 }).toBe(told);
        } finally {
          await proxy.end();
        }
      }
    } finally {
      behind.close();
    }
  });

  it('its proxy passes sockets, keeps a board at one server, and passes over one that is gone', async () => {
    const at = ({ origin }: ServerProcess): string => origin.slice('http://'.length);
    const { port, end } = await startProxy([at(one), at(other)]);
    try {
      const rooms = `ws://127.0.0.1:${port}/rooms`;
      const ready = () => fetch(`http://127.0.0.1:${port}/readyz`).then(({ ok }) => ok);
      await expect.poll(() => ready().catch(() => false), { timeout: 20_000 }).toBe(true);
      // Metrics of one server, whichever, would be no series, and they are nobody's business outside.
      for (const path of ['/metrics', '/metrics?a', '//metrics', '/%6detrics', '/x/../metrics']) {
        const answer = await askPlainly(port, path);
        expect(answer, path).toMatch(/^HTTP\/1\.1 404 /);
        expect(answer, path).not.toContain('stemline_');
      }
      const board = await home.board(ada);
      const coaches = [ada, ben, ada, ben].map((who) => new Coach(rooms, board, who.cookie));
      await until('all in', () => coaches.every(({ synced }) => synced), 20_000);
      coaches[0]?.board.setName('Through the proxy');
      await until('seen by all', () =>
        coaches.every((coach) => nameOf(coach) === 'Through the proxy'),
      );
      const open = async ({ origin }: ServerProcess): Promise<number> => {
        const text = await (await fetch(`${origin}/metrics`)).text();
        return Number(/^stemline_room_sockets (\d+)$/m.exec(text)?.[1]);
      };
      expect((await Promise.all([open(one), open(other)])).sort()).toEqual([0, 4]);
      const busy = (await open(one)) === 4 ? 'one' : 'other';
      await (busy === 'one' ? one : other).kill();
      coaches[1]?.board.setName('Elsewhere');
      await until(
        'all at the other server',
        () => coaches.every((coach) => coach.synced && nameOf(coach) === 'Elsewhere'),
        30_000,
      );
      for (const coach of coaches) {
        expect(coach.closed).toBeNull();
        coach.leave();
      }
      if (busy === 'one') one = await startOne();
      else other = await startOne();
    } finally {
      await end();
    }
  }, 120_000);
});

/** The proxy of docker-compose.yml before these addresses. */
async function startProxy(
  servers: readonly string[],
  outerProxy = '255.255.255.255',
): Promise<{ port: number; end: () => Promise<void> }> {
  const port = await freePort();
  const folder = await mkdtemp(join(tmpdir(), 'stemline-proxy-'));
  const here = servers.map((address, n) => `server s${n} ${address} check inter 200`);
  const text = (await readFile(proxyFile, 'utf8'))
    .replace('bind :4600', `bind 127.0.0.1:${port}`)
    .replaceAll(/server-template .*/g, here.join('\n  '));
  await writeFile(join(folder, 'haproxy.cfg'), text);
  const proxy = spawn('haproxy', ['-db', '-f', join(folder, 'haproxy.cfg')], {
    stdio: 'ignore',
    env: { ...process.env, OUTER_PROXY: outerProxy },
  });
  return {
    port,
    async end() {
      const gone = once(proxy, 'exit');
      proxy.kill('SIGKILL');
      await gone;
      await rm(folder, { recursive: true, force: true });
    },
  };
}
