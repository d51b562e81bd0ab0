import type { AppType } from '@stemline/server/app-type';
import { hc } from 'hono/client';
import { z } from 'zod';
import { noAnswer, problemOf, unreadable } from './api-problem.ts';

/** The typed client: paths and what they take come from the server's own declaration. */
export const client = hc<AppType>('/', { init: { credentials: 'same-origin' } });

/** The answer of a request, checked; anything else is thrown as an `ApiProblem`. */
export async function answer<Schema extends z.ZodType>(
  schema: Schema,
  request: Promise<Response>,
): Promise<z.output<Schema>> {
  const response = await reach(request);
  const read = schema.safeParse(await response.json().catch(() => undefined));
  if (!read.success) throw unreadable(z.prettifyError(read.error));
  return read.data;
}

/** For requests whose answer says nothing more than that it was done. */
export async function done(request: Promise<Response>): Promise<void> {
  await reach(request);
}

/** The answer as it came; anything but success is thrown as an `ApiProblem`. */
export async function reach(request: Promise<Response>): Promise<Response> {
  const response = await request.catch(() => {
    throw noAnswer();
  });
  if (!response.ok) throw await problemOf(response);
  return response;
}
