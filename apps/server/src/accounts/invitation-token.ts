import { createHash, randomBytes } from 'node:crypto';

/** 32 random bytes for a link. */
export const newToken = (): string => randomBytes(32).toString('base64url');

/** All that is stored of a token: who reads the store cannot use the links. */
export const hashToken = (token: string): string =>
  createHash('sha256').update(token).digest('hex');
