import { createAuthClient } from 'better-auth/react';
import { ApiProblem, noAnswer } from './api-problem.ts';

const auth = createAuthClient({ basePath: '/api/auth' });

export const signIn = (email: string, password: string) =>
  told(auth.signIn.email({ email, password }));

export const createAccount = (name: string, email: string, password: string) =>
  told(auth.signUp.email({ name, email, password }));

/** Ends every other session of this account, wherever it is. */
export const changePassword = (currentPassword: string, newPassword: string) =>
  told(auth.changePassword({ currentPassword, newPassword, revokeOtherSessions: true }));

export const signOut = () => told(auth.signOut());

/** Ends every session of this account, this one included. */
export async function signOutEverywhere(): Promise<void> {
  await told(auth.revokeSessions());
  await signOut();
}

interface AuthAnswer {
  error: {
    status: number;
    statusText: string;
    message?: string | undefined;
    code?: string | undefined;
    /** Where the server itself answered, with a problem of its own. */
    title?: string | undefined;
    detail?: string | undefined;
    mend?: string | undefined;
  } | null;
}

async function told(request: Promise<AuthAnswer>): Promise<void> {
  const { error } = await request.catch(() => {
    throw noAnswer();
  });
  if (error !== null) throw accountProblem(error);
}

/** better-auth's codes in our words; an unknown one keeps its own message. */
export function accountProblem(error: NonNullable<AuthAnswer['error']>): ApiProblem {
  if (error.detail !== undefined && error.mend !== undefined) {
    return new ApiProblem({
      type: 'about:blank',
      title: error.title ?? 'That did not work',
      status: error.status,
      detail: error.detail,
      mend: error.mend,
    });
  }
  const [detail, mend] =
    words[error.code ?? ''] ??
    (error.status === 429
      ? ['Too many tries in a short time.', 'Wait a minute, then try again.']
      : [
          error.message ?? `The server answered ${error.status}.`,
          'Check what you typed, then try again.',
        ]);
  return new ApiProblem({
    type: 'about:blank',
    title: 'That did not work',
    status: error.status,
    detail,
    mend,
  });
}

const words: Record<string, [detail: string, mend: string] | undefined> = {
  INVALID_EMAIL_OR_PASSWORD: [
    'No account fits this e-mail and password.',
    'Check both for typing slips, or create an account.',
  ],
  INVALID_PASSWORD: ['The current password is another one.', 'Check it for typing slips.'],
  USER_ALREADY_EXISTS: ['There is already an account for this e-mail.', 'Sign in with it instead.'],
  USER_ALREADY_EXISTS_USE_ANOTHER_EMAIL: [
    'There is already an account for this e-mail.',
    'Sign in with it instead.',
  ],
};
