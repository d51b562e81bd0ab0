import { plainText } from '@stemline/football/plain-text';
import { z } from 'zod';

/** Characters of a password; the server's accounts and the sign-up form must agree. */
export const passwordLength = { min: 10, max: 128 } as const;

export const passwordSchema = z
  .string()
  .min(passwordLength.min, `Use at least ${passwordLength.min} characters.`)
  .max(passwordLength.max, `Use at most ${passwordLength.max} characters.`);

export const passwordChangeSchema = z.strictObject({
  current: z.string().min(1, 'Type your password.'),
  next: passwordSchema,
});
export type PasswordChange = z.infer<typeof passwordChangeSchema>;

/** Bounded, so that every address that may be tried can be counted. */
export const emailSchema = z
  .email('An e-mail address looks like name@school.org.')
  .max(320, 'An e-mail address has at most 320 characters.');

/** A person's name as colleagues see it. */
export const personNameSchema = plainText('A name', 80, 'Type your name. Your staff sees it.');

export const newAccountSchema = z.strictObject({
  name: personNameSchema,
  email: emailSchema,
  password: passwordSchema,
});
export type NewAccount = z.infer<typeof newAccountSchema>;
