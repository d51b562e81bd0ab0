import { parseSigned } from 'hono/utils/cookie';
import type { Auth } from './auth.ts';

/** A person with a running session. */
export interface SignedIn {
  user: { id: string; name: string; email: string };
  session: { id: string; expiresAt: Date };
}

/** Who is signed in by these headers' cookie; null: nobody. The API and the rooms both ask this, each time. */
export type SessionOf = (headers: Headers) => Promise<SignedIn | null>;

export const sessionReader =
  (auth: Auth): SessionOf =>
  async (headers) => {
    const found = await auth.api.getSession({ headers });
    if (!found) return null;
    const { user, session } = found;
    return {
      user: { id: user.id, name: user.name, email: user.email },
      session: { id: session.id, expiresAt: session.expiresAt },
    };
  };

/** What names a session in a cookie that we signed, whether or not it still runs; null: nothing we signed. The store is not asked. */
export type SignedToken = (cookie: string | undefined) => Promise<string | null>;

export const tokenReader =
  (auth: Auth): SignedToken =>
  async (cookie) => {
    if (!cookie) return null;
    const { authCookies, secret } = await auth.$context;
    const { name } = authCookies.sessionToken;
    return (await parseSigned(cookie, secret, name))[name] || null;
  };
