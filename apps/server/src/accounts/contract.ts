import { z } from '@hono/zod-openapi';
import { emailSchema, passwordSchema, personNameSchema } from '@stemline/protocol/api/account';
import { body, invalid, json } from '../api/responses.ts';

const done = z.object({ success: z.boolean() }).partial();

/** Where a password is hashed, which costs: one address may ask for it only so often. */
export const passwordPaths = [
  '/api/auth/sign-up/email',
  '/api/auth/sign-in/email',
  '/api/auth/change-password',
] as const;

/**
 * What we serve of better-auth, which answers these itself once the body fits; its other endpoints are
 * not served, and no field but these reaches it. Its errors are `{ code, message }`.
 */
export const accountRoutes = [
  {
    method: 'post',
    path: '/api/auth/sign-up/email',
    says: 'Makes an account and signs in: the answer sets the session cookie.',
    body: z.object({ name: personNameSchema, email: emailSchema, password: passwordSchema }),
    endsSessions: false,
  },
  {
    method: 'post',
    path: '/api/auth/sign-in/email',
    says: 'Signs in: the answer sets the session cookie.',
    body: z.object({ email: emailSchema, password: z.string() }),
    endsSessions: false,
  },
  {
    method: 'post',
    path: '/api/auth/sign-out',
    says: 'Ends this session.',
    body: z.object({}),
    endsSessions: true,
  },
  {
    method: 'post',
    path: '/api/auth/revoke-sessions',
    says: 'Ends every session of this account.',
    body: z.object({}),
    endsSessions: true,
  },
  {
    method: 'post',
    path: '/api/auth/revoke-other-sessions',
    says: 'Ends every other session of this account.',
    body: z.object({}),
    endsSessions: true,
  },
  {
    method: 'post',
    path: '/api/auth/change-password',
    says: 'Sets a new password, and ends every other session of this account unless told not to.',
    body: z.object({
      currentPassword: z.string(),
      newPassword: passwordSchema,
      revokeOtherSessions: z.boolean().default(true),
    }),
    endsSessions: true,
  },
  {
    method: 'post',
    path: '/api/auth/update-user',
    says: 'Sets the name that colleagues see.',
    body: z.object({ name: personNameSchema }),
    endsSessions: false,
  },
  {
    method: 'get',
    path: '/api/auth/get-session',
    says: 'Who is signed in; null: nobody.',
    body: null,
    endsSessions: false,
  },
] as const;

/** The same for /openapi.json. */
export const describedAccountRoutes = accountRoutes.map((route) => ({
  method: route.method,
  path: route.path,
  tags: ['accounts'],
  'x-right': null,
  request: route.body ? { body: body(route.body) } : {},
  responses: {
    200: json(route.body ? done : z.unknown(), route.says),
    ...(route.body ? invalid : {}),
  },
}));
