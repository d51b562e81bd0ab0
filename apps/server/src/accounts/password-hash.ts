import { availableParallelism } from 'node:os';
import { hashPassword, verifyPassword } from 'better-auth/crypto';
import pLimit from 'p-limit';

/**
 * A hash takes a core for a tenth of a second, on one of Node's four threads for such work. A team that signs
 * in at once would take them all, and names would not be looked up meanwhile, nor boards be edited in time.
 */
const atOnce = pLimit(Math.max(1, Math.min(3, Math.floor(availableParallelism() / 2))));

export interface PasswordHash {
  hash(password: string): Promise<string>;
  verify(given: { hash: string; password: string }): Promise<boolean>;
}

/** better-auth's own (scrypt), a few at a time; the others wait in order. */
export const passwordHash: PasswordHash = {
  hash: (password) => atOnce(() => hashPassword(password)),
  verify: (given) => atOnce(() => verifyPassword(given)),
};
