import { z } from 'zod';
import { api } from '../api/context.ts';
import { failure } from '../api/errors.ts';
import { unfitting } from '../api/problem.ts';
import { addressHeader } from '../http/client-address.ts';
import { accountRoutes } from './contract.ts';
import { beginTry, type TryResult } from './lockout.ts';
import type { SignedIn } from './session.ts';

/** Sign-up, sign-in, sign-out and passwords, as better-auth serves them. */
export const accounts = api();

for (const { method, path, body: schema, endsSessions } of accountRoutes) {
  accounts.on(method.toUpperCase(), path, async (c) => {
    const { auth, prisma, sessionOf, rooms } = c.var.deps;
    const leaves = endsSessions ? await sessionOf(c.req.raw.headers) : null;
    const headers = new Headers(c.req.raw.headers);
    headers.set(addressHeader, c.var.address);
    const sent = schema && fitting(schema, await c.req.text());
    const email = await triesPasswordOf(path, sent, () => sessionOf(c.req.raw.headers));
    const settle = email === null ? null : await beginTry(prisma, email, c.var.address);
    const body = sent && JSON.stringify(sent);
    if (body) headers.set('content-type', 'application/json');
    headers.delete('content-length');
    const answer = await auth.handler(
      new Request(c.req.url, { method: c.req.method, headers, body }),
    );
    await settle?.(await resultOf(answer));
    if (answer.status >= 500) throw await failure(c);
    // A room may still rely on a session that has just ended.
    if (leaves && answer.ok) await rooms.accessChanged({ userId: leaves.user.id });
    return answer;
  });
}

/** What was sent, as the contract has it; nothing at all counts as an empty object. */
function fitting(schema: z.ZodType<object>, text: string): object {
  const sent = schema.safeParse(JSON.parse(text || '{}'));
  if (!sent.success) throw unfitting('body', sent.error.issues);
  return sent.data;
}

const typedEmail = z.object({ email: z.string() });

/** The account whose password a request tries; null: it tries none. */
async function triesPasswordOf(
  path: (typeof accountRoutes)[number]['path'],
  sent: object | null,
  signedIn: () => Promise<SignedIn | null>,
): Promise<string | null> {
  if (path === '/api/auth/change-password') return (await signedIn())?.user.email ?? null;
  if (path !== '/api/auth/sign-in/email') return null;
  return typedEmail.parse(sent).email;
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
