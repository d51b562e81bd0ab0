import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { freePort } from '../../../apps/server/src/cluster/free-port.ts';
import { demoPassword, people } from '../../../apps/server/src/demo/people.ts';
import { projectRoot } from '../../../apps/server/src/env.ts';
import { startPostgres, type TestPostgres } from '../support/postgres.ts';
import { type ServerProcess, startServerProcess } from '../support/process.ts';

const run = promisify(execFile);

/** Whoever has only the documents: a whole server as an operator starts it, and a client without our code. */
describe('a client of somebody else', () => {
  let postgres: TestPostgres;
  let server: ServerProcess;
  beforeAll(async () => {
    postgres = await startPostgres();
    // Not as under test: some libraries are laxer there.
    const env = { NODE_ENV: 'development', DEMO: '1', DATABASE_URL: postgres.url };
    server = await startServerProcess(postgres.dataDir, await freePort(), env);
  }, 180_000);
  afterAll(async () => {
    await server?.stop();
    await postgres?.stop();
  });

  const client = (): Promise<{ stdout: string }> =>
    run(process.execPath, [
      join(projectRoot, 'tests/rooms/outside/client.mjs'),
      server.origin,
      people.marcus.email,
      demoPassword,
    ]);

  it('signs in, moves a player by plain y-websocket, and hears that it is saved', async () => {
    const { stdout } = await client();
    expect(JSON.parse(stdout)).toMatchObject({ H: [-8.5, -1.5] });
  }, 60_000);

  it('signs out with its cookie and no origin, and is out', async () => {
    const ask = (path: string, body: unknown, cookie = ''): Promise<Response> =>
      fetch(server.origin + path, {
        method: 'POST',
        headers: { 'content-type': 'application/json', cookie },
        body: JSON.stringify(body),
      });
    const { email } = people.ruth;
    const signedIn = await ask('/api/auth/sign-in/email', { email, password: demoPassword });
    const cookie = signedIn.headers.getSetCookie()[0]?.split(';')[0] ?? '';
    expect((await ask('/api/auth/sign-out', {}, cookie)).status).toBe(200);
    const me = await fetch(`${server.origin}/api/me`, { headers: { cookie } });
    expect(me.status).toBe(401);
  }, 60_000);
});
