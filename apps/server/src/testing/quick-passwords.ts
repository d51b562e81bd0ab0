import { createHash } from 'node:crypto';
import type { PasswordHash } from '../accounts/password-hash.ts';

const digest = (password: string): string => createHash('sha256').update(password).digest('hex');

/**
 * For tests that are about something else: the real way takes a core for a tenth of a second, and they sign
 * up some three hundred people. `accounts.test.ts` and every test of a whole server keep to the real one.
 */
export const quickPasswords: PasswordHash = {
  hash: async (password) => digest(password),
  verify: async ({ hash, password }) => hash === digest(password),
};
