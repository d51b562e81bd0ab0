import { api } from '../api/context.ts';
import { withAddress } from '../http/client-address.ts';

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
  const answer = await auth.handler(withAddress(c.req.raw, c.var.address));
  if (ends && answer.ok) await rooms.accessChanged({ userId: ends.user.id });
  return answer;
});
