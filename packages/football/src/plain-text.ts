import { z } from 'zod';

/**
 * Text that somebody types, with whole sentences for what is wrong with it: fields show them, and the
 * API says the same. `empty`: what to say where nothing is typed; left out, it may be empty.
 */
export function plainText(what: string, max: number, empty?: string) {
  const text = z.string(`${what} is text.`).trim();
  const tooLong = `${what} may be ${max} characters at most.`;
  return empty === undefined ? text.max(max, tooLong) : text.min(1, empty).max(max, tooLong);
}
