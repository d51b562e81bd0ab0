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
