import type { IncomingMessage } from 'node:http';
import { beforeAll, describe, expect, it } from 'vitest';
import { Metrics } from '../../http/metrics.ts';
import { startApp, type TestApp } from '../../testing/app.ts';

const token = 'a token for metrics and nothing else';

async function read(
  { app }: TestApp,
  address: string,
  headers: Record<string, string> = {},
): Promise<Response> {
  const incoming = { socket: { remoteAddress: address } } as IncomingMessage;
  return app.fetch(new Request('http://stemline.test/metrics', { headers }), { incoming });
}

describe('/metrics', () => {
  let stage: TestApp;
  beforeAll(async () => {
    stage = await startApp();
  });

  it.each(['127.0.0.1', '127.0.0.53', '::1', '::ffff:127.0.0.1'])(
    'is open to this machine (%s), in the format that Prometheus reads',
    async (address) => {
      const answer = await read(stage, address);
      expect(answer.status).toBe(200);
      expect(answer.headers.get('content-type')).toMatch(/^text\/plain; version=0\.0\.4/);
      const lines = (await answer.text()).trim().split('\n');
      for (const line of lines)
        expect(line).toMatch(/^(# (HELP|TYPE) \S+ .+|[a-z_]+(\{.*\})? [-+.\deNaInf]+|)$/);
      expect(lines).toContain('stemline_rooms_open 0');
    },
  );

  it.each(['192.0.2.7', '::ffff:192.0.2.7', '2001:db8::1', ''])(
    'is closed to anybody else (%s)',
    async (address) => {
      const answer = await read(stage, address);
      expect(answer.status).toBe(401);
      expect(answer.headers.get('content-type')).toBe('application/problem+json');
      expect(answer.headers.get('www-authenticate')).toMatch(/^Bearer/);
      expect(await answer.text()).not.toContain('stemline_rooms_open');
    },
  );

  it.each(['x-forwarded-for', 'forwarded', 'x-real-ip', 'via'])(
    'does not take a proxy on this machine for who asks (%s)',
    async (name) => {
      expect((await read(stage, '127.0.0.1', { [name]: '127.0.0.1' })).status).toBe(401);
    },
  );

  it('is open to whoever sends the token, from anywhere', async () => {
    const named = await startApp({ metrics: new Metrics(token) });
    const of = async (authorization: string): Promise<number> =>
      (await read(named, '192.0.2.7', { authorization })).status;
    expect(await of(`Bearer ${token}`)).toBe(200);
    for (const wrong of [`Bearer ${token}x`, 'Bearer ', 'Bearer', token, `Basic ${token}`, ''])
      expect([wrong, await of(wrong)]).toEqual([wrong, 401]);
  });

  it('without a token takes none', async () => {
    for (const authorization of ['Bearer null', 'Bearer undefined', 'Bearer '])
      expect((await read(stage, '192.0.2.7', { authorization })).status).toBe(401);
  });

  it('counts requests by pattern, never by path, and no method that a caller makes up', async () => {
    await stage.stranger().ask('GET', '/api/invitations/some-secret-token-of-forty-three-letters');
    await stage.stranger().ask('PROPFIND', '/api/me');
    const text = await (await read(stage, '127.0.0.1')).text();
    expect(text).toContain('method="GET",route="/api/invitations/:token"');
    expect(text).toContain('method="other"');
    expect(text).not.toMatch(/some-secret|PROPFIND/);
  });
});
