import { createHash, timingSafeEqual } from 'node:crypto';
import { isIP } from 'node:net';
import type { Context } from 'hono';
import { type AppEnv, api } from '../context.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

export const metrics = api().openapi(contract.metrics, async (c) => {
  const { registry, token } = c.var.deps.metrics;
  if (!isFromHere(c) && !bears(token, c.req.header('authorization'))) {
    throw new ApiProblem('noToken', 'Metrics are for whoever runs this server.', {
      headers: { 'www-authenticate': 'Bearer realm="metrics"' },
    });
  }
  return c.text(await registry.metrics(), 200, { 'content-type': registry.contentType });
});

/** What a proxy adds: then the socket's address is the proxy's, and says nothing about who asks. */
const forwarding = ['forwarded', 'x-forwarded-for', 'x-forwarded-host', 'x-real-ip', 'via'];

function isFromHere(c: Context<AppEnv>): boolean {
  if (forwarding.some((name) => c.req.header(name) !== undefined)) return false;
  const address = c.env.incoming?.socket.remoteAddress?.replace(/^::ffff:/, '') ?? '';
  return isIP(address) === 4 ? address.startsWith('127.') : address === '::1';
}

/** Compared as hashes, in a time that tells nothing about the token. */
function bears(token: string | null, authorization: string | undefined): boolean {
  const sent = /^Bearer +(.+)$/i.exec(authorization ?? '')?.[1];
  if (token === null || sent === undefined) return false;
  return timingSafeEqual(hash(token), hash(sent));
}

const hash = (text: string): Buffer => createHash('sha256').update(text).digest();
