import { spawn } from 'node:child_process';
import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { z } from 'zod';
import { built, mapped } from '../../apps/server/src/built.ts';
import { freePort } from '../../apps/server/src/cluster/free-port.ts';
import { projectRoot } from '../../apps/server/src/env.ts';
import { Coach, until } from './support/coach.ts';

// What `npm run cluster` runs once the clone is ready.

const token = 'a token for metrics and nothing else';
const folders: string[] = [];
afterAll(() => Promise.all(folders.map((folder) => rm(folder, { recursive: true, force: true }))));

it('npm run cluster: two servers behind one port, where edits cross; SIGTERM ends all in good order', async () => {
  const dataDir = await mkdtemp(join(tmpdir(), 'stemline-cluster-'));
  folders.push(dataDir);
  await chmod(dataDir, 0o711);
  const port = await freePort();
  const child = spawn(process.execPath, [mapped, built('cluster')], {
    cwd: projectRoot,
    env: {
      ...process.env,
      NODE_ENV: 'test',
      DATA_DIR: dataDir,
      PORT: String(port),
      DEMO: '0',
      DATABASE_URL: '',
      REDIS_URL: '',
      METRICS_TOKEN: token,
      LOG_LEVEL: 'error',
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (chunk) => {
      said += String(chunk);
    });
  }
  const gone = new Promise<number | null>((resolve) => child.once('exit', resolve));
  try {
    await until('told the address', () => said.includes('2 servers behind'), 90_000);
    const origin = `http://127.0.0.1:${port}`;
    expect(said).toContain(`Stemline runs at ${origin}`);

    let cookie = '';
    const post = async (path: string, body: unknown): Promise<unknown> => {
      const answer = await fetch(origin + path, {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin, cookie },
        body: JSON.stringify(body),
      });
      const text = await answer.text();
      expect(answer.ok, `${path}: ${text}`).toBe(true);
      const set = answer.headers.getSetCookie().map((line) => line.split(';')[0]);
      if (set.length > 0) cookie = set.join('; ');
      return JSON.parse(text);
    };
    await post('/api/auth/sign-up/email', {
      name: 'Ada Holm',
      email: 'ada@example.test',
      password: 'long enough, really',
    });
    // Each request meets another server: the session and the staff are the store's.
    const { staffId } = z
      .object({ staffId: z.string() })
      .parse(await post('/api/staffs', { name: 'Harbour' }));
    const wish = { name: 'Lantern', formation: 'doubles', code: 'college' };
    const { id } = z
      .object({ id: z.string() })
      .parse(await post(`/api/staffs/${staffId}/boards`, wish));
    const coaches = [1, 2, 3].map(() => new Coach(`ws://127.0.0.1:${port}/rooms`, id, cookie));
    await until('all in', () => coaches.every(({ synced }) => synced), 20_000);
    coaches[0]?.board.setName('Seen everywhere');
    await until('seen by all', () =>
      coaches.every(({ board }) => board.snapshot().board.play.name === 'Seen everywhere'),
    );
    // Of one server, whichever: that would be no series. Each has its own address for it.
    const headers = { authorization: `Bearer ${token}` };
    for (const path of ['/metrics', '/metrics?', '//metrics', '/%6detrics'])
      expect((await fetch(origin + path, { headers })).status, path).toBe(404);
    const own = said.match(/http:\/\/127\.0\.0\.1:\d+\/metrics/g) ?? [];
    expect(own).toHaveLength(2);
    const sockets = await Promise.all(
      own.map(async (address) => {
        const text = await (await fetch(address)).text();
        return Number(/^stemline_room_sockets (\d+)$/m.exec(text)?.[1]);
      }),
    );
    expect(sockets.sort()).toEqual([1, 2]);
    child.kill('SIGTERM');
    await until('told to come back later', () =>
      coaches.every(({ closes }) => closes.includes(4500)),
    );
    for (const coach of coaches) coach.leave();
    expect(await gone, said).toBe(0);
    expect(said).toContain('everything is saved');
  } finally {
    child.kill('SIGTERM');
    await gone;
  }
}, 180_000);
