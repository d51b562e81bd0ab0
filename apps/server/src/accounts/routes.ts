import { api } from '../api/context.ts';
import { addressHeader } from '../http/client-address.ts';
import { accountRoutes } from './contract.ts';

/** Sign-up, sign-in, sign-out and passwords, as better-auth serves them. */
export const accounts = api();

for (const { method, path, endsSessions } of accountRoutes) {
  accounts.on(method.toUpperCase(), path, async (c) => {
    const { auth, sessionOf, rooms } = c.var.deps;
    const leaves = endsSessions ? await sessionOf(c.req.raw.headers) : null;
    const headers = new Headers(c.req.raw.headers);
    headers.set(addressHeader, c.var.address);
    // The body has been read and looked through, so it is handed on as text.
    const body = method === 'post' ? await c.req.text() : null;
    const answer = await auth.handler(
      new Request(c.req.url, { method: c.req.method, headers, body }),
    );
    // A room may still rely on a session that has just ended.
    if (leaves && answer.ok) await rooms.accessChanged({ userId: leaves.user.id });
    return answer;
  });
}
