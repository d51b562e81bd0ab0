import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import type { AppEnv } from './context.ts';
import { ApiProblem, problemResponse } from './problem.ts';

/** The one edge at which whatever was thrown becomes an answer. */
export function answerError(error: Error, c: Context<AppEnv>): Response {
  if (error instanceof ApiProblem) return problemResponse(error);
  if (error instanceof HTTPException && error.status === 400) {
    return problemResponse(new ApiProblem('malformed', error.message));
  }
  c.var.deps.log.error({ err: error, requestId: c.var.requestId }, 'a request failed');
  return problemResponse(
    new ApiProblem('broken', `Something went wrong on our side (request ${c.var.requestId}).`),
  );
}
