import { z } from 'zod';
import { api } from '../api/context.ts';
import { addressHeader } from '../http/client-address.ts';
import { accountRoutes } from './contract.ts';
import { beginTry, type TryResult } from './lockout.ts';
import type { SignedIn } from './session.ts';

/** Sign-up, sign-in, sign-out and passwords, as better-auth serves them. */
export const accounts = api();

for (const { method, path, endsSessions } of accountRoutes) {
  accounts.on(method.toUpperCase(), path, async (c) => {
    const { auth, prisma, sessionOf, rooms } = c.var.deps;
    const leaves = endsSessions ? await sessionOf(c.req.raw.headers) : null;
    const headers = new Headers(c.req.raw.headers);
    headers.set(addressHeader, c.var.address);
    // The body has been read and looked through, so it is handed on as text.
    const body = method === 'post' ? await c.req.text() : null;
    const email = await triesPasswordOf(path, body, () => sessionOf(c.req.raw.headers));
    const settle = email === null ? null : await beginTry(prisma, email, c.var.address);
    const answer = await auth.handler(
      new Request(c.req.url, { method: c.req.method, headers, body }),
    );
    await settle?.(await resultOf(answer));
    // A room may still rely on a session that has just ended.
    if (leaves && answer.ok) await rooms.accessChanged({ userId: leaves.user.id });
    return answer;
  });
}

const typedEmail = z.object({ email: z.string().max(320) });

/** The account whose password a request tries; null: it tries none. */
async function triesPasswordOf(
  path: (typeof accountRoutes)[number]['path'],
  body: string | null,
  signedIn: () => Promise<SignedIn | null>,
): Promise<string | null> {
  if (path === '/api/auth/change-password') return (await signedIn())?.user.email ?? null;
  if (path !== '/api/auth/sign-in/email') return null;
  const typed = typedEmail.safeParse(JSON.parse(body || 'null'));
  return typed.success ? typed.data.email : null;
}

const wrongCodes = ['INVALID_EMAIL_OR_PASSWORD', 'INVALID_PASSWORD'];

async function resultOf(answer: Response): Promise<TryResult> {
  if (answer.ok) return 'right';
  const { code } = z
    .object({ code: z.string() })
    .catch({ code: '' })
    .parse(
      await answer
        .clone()
        .json()
        .catch(() => null),
    );
  return wrongCodes.includes(code) ? 'wrong' : 'neither';
}
