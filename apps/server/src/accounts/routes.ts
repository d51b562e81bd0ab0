import { api } from '../api/context.ts';
import { addressHeader } from '../http/client-address.ts';

/** After these a session may have ended that a room still relies on. */
const endsSessions = new Set([
  '/api/auth/sign-out',
  '/api/auth/revoke-session',
  '/api/auth/revoke-sessions',
  '/api/auth/revoke-other-sessions',
  '/api/auth/change-password',
]);

/** Sign-up, sign-in, sign-out and passwords, as better-auth serves them. */
export const accounts = api().on(['GET', 'POST'], '/api/auth/*', async (c) => {
  const { auth, sessionOf, rooms } = c.var.deps;
  const ends = endsSessions.has(c.req.path) ? await sessionOf(c.req.raw.headers) : null;
  const headers = new Headers(c.req.raw.headers);
  headers.set(addressHeader, c.var.address);
  // The body has been read and looked through, so it is handed on as text.
  const body = c.req.method === 'POST' ? await c.req.text() : null;
  const answer = await auth.handler(
    new Request(c.req.url, { method: c.req.method, headers, body }),
  );
  if (ends && answer.ok) await rooms.accessChanged({ userId: ends.user.id });
  return answer;
});
