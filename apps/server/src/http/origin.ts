import { createMiddleware } from 'hono/factory';
import { ApiProblem } from '../api/problem.ts';

/** Decides whether a browser page of this origin may act on the server it sent its request to. */
export type OriginCheck = (origin: string, host: string | undefined) => boolean;

/** With addresses given, those; else a page may act on the very host it came from. */
export const originCheck =
  (publicUrl: readonly string[] | null): OriginCheck =>
  (origin, host) => {
    if (publicUrl) return publicUrl.includes(origin);
    return URL.canParse(origin) && new URL(origin).host === host;
  };

const reads = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * No other site's page may change anything in the name of who is signed in. Browsers name the origin
 * of every such request; a request without one, and without a browser's fetch metadata, is no page's.
 */
export const sameOriginWrites = (allowed: OriginCheck) =>
  createMiddleware(async (c, next) => {
    if (!reads.has(c.req.method)) {
      const origin = c.req.header('origin');
      const site = c.req.header('sec-fetch-site');
      const fine =
        origin === undefined
          ? site === undefined || site === 'same-origin' || site === 'none'
          : allowed(origin, c.req.header('host'));
      if (!fine)
        throw new ApiProblem(
          'foreignOrigin',
          `A page of ${origin ?? 'another site'} may not change anything here.`,
        );
    }
    await next();
  });
