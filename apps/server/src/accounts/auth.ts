import { passwordLength } from '@stemline/protocol/api/account';
import { betterAuth } from 'better-auth';
import { prismaAdapter } from 'better-auth/adapters/prisma';
import type { Logger } from 'pino';
import type { Prisma } from '../database.ts';
import { addressHeader } from '../http/client-address.ts';
import { type PasswordHash, passwordHash } from './password-hash.ts';

const day = 24 * 60 * 60;

export interface AuthOptions {
  prisma: Prisma;
  log: Logger;
  secret: string;
  /** Origins browsers may come from; null: the one a request was sent to. */
  publicUrl: readonly string[] | null;
  /** How passwords are kept; another way only in tests. */
  passwords?: PasswordHash;
}

/** Accounts: e-mail and password, sessions in HttpOnly cookies that the store can end at any time. */
export function createAuth(options: AuthOptions) {
  return betterAuth({
    appName: 'Stemline',
    basePath: '/api/auth',
    secret: options.secret,
    ...(options.publicUrl?.[0] ? { baseURL: options.publicUrl[0] } : {}),
    trustedOrigins: (request) =>
      options.publicUrl ? [...options.publicUrl] : request ? [new URL(request.url).origin] : [],
    database: prismaAdapter(options.prisma, { provider: 'postgresql', transaction: true }),
    emailAndPassword: {
      enabled: true,
      minPasswordLength: passwordLength.min,
      maxPasswordLength: passwordLength.max,
      password: options.passwords ?? passwordHash,
      // There is no mail server to verify with; an invitation link is what lets somebody in.
      requireEmailVerification: false,
    },
    session: { expiresIn: 30 * day, updateAge: day, cookieCache: { enabled: false } },
    // Ours counts (http/request-limit.ts): its own never forgets while requests go on coming, and clears
    // the counters of wrong passwords out of the table after a minute.
    rateLimit: { enabled: false },
    advanced: {
      // Ours decides (http/origin.ts): its own also turns away programs, which name no origin.
      disableCSRFCheck: true,
      // Cookies for https only, wherever every address is https.
      useSecureCookies: options.publicUrl?.every((origin) => origin.startsWith('https:')) ?? false,
      defaultCookieAttributes: { httpOnly: true, sameSite: 'lax', path: '/' },
      cookiePrefix: 'stemline',
      ipAddress: { ipAddressHeaders: [addressHeader] },
    },
    telemetry: { enabled: false },
    // What broke inside is ours to log and to answer (api/errors.ts); what it refuses it answers itself.
    onAPIError: { throw: true },
    logger: {
      // Its warnings are about a fixed base address, which we have only when we are told one.
      level: 'error',
      log: (_, message, ...more: unknown[]) =>
        options.log.error(
          { part: 'accounts', err: more.find((one) => one instanceof Error) },
          message,
        ),
    },
  });
}
export type Auth = ReturnType<typeof createAuth>;
