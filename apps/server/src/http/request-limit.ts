import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';
import { countedAs } from './counted-as.ts';

interface Allowance {
  left: number;
  at: number;
}

/** Addresses remembered at once; past it the longest unseen is forgotten. */
const maxAddresses = 10_000;

/**
 * At most so many requests a minute from one address, evenly refilled. Of this process alone. `what`:
 * the requests it counts, in words.
 */
export function requestLimit(perMinute: number, what = 'requests', now: () => number = Date.now) {
  const allowances = new Map<string, Allowance>();
  const perMs = perMinute / 60_000;
  return createMiddleware<AppEnv>(async (c, next) => {
    const address = countedAs(c.var.address);
    const before = allowances.get(address) ?? { left: perMinute, at: now() };
    const left = Math.min(perMinute, before.left + (now() - before.at) * perMs);
    // Set anew, so that the map stays in the order of last use.
    allowances.delete(address);
    allowances.set(address, { left: Math.max(0, left - 1), at: now() });
    if (allowances.size > maxAddresses) {
      for (const oldest of allowances.keys()) {
        allowances.delete(oldest);
        break;
      }
    }
    if (left < 1) {
      const seconds = Math.ceil((1 - left) / perMs / 1000);
      throw new ApiProblem(
        'tooMany',
        `From one address ${perMinute} ${what} a minute are answered.`,
        {
          headers: { 'retry-after': String(seconds) },
        },
      );
    }
    await next();
  });
}
