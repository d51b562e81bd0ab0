import { z } from 'zod';

/** Characters of a password; the server's accounts and the sign-up form must agree. */
export const passwordLength = { min: 10, max: 128 } as const;

export const passwordSchema = z
  .string()
  .min(passwordLength.min, `use at least ${passwordLength.min} characters`)
  .max(passwordLength.max, `use at most ${passwordLength.max} characters`);

export const passwordChangeSchema = z.strictObject({
  current: z.string().min(1, 'type your password'),
  next: passwordSchema,
});
export type PasswordChange = z.infer<typeof passwordChangeSchema>;

/** A person's name as colleagues see it. */
export const personNameSchema = z.string().trim().min(1, 'your staff will see this name').max(80);

export const newAccountSchema = z.strictObject({
  name: personNameSchema,
  email: z.email('an e-mail address looks like name@school.org'),
  password: passwordSchema,
});
export type NewAccount = z.infer<typeof newAccountSchema>;
