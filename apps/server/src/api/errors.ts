import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { isAway } from '../database.ts';
import type { AppEnv } from './context.ts';
import { ApiProblem, problemResponse } from './problem.ts';

/** The one edge at which whatever was thrown becomes an answer. */
export async function answerError(error: Error, c: Context<AppEnv>): Promise<Response> {
  if (error instanceof ApiProblem) return problemResponse(error);
  if (error instanceof HTTPException && error.status === 400) {
    return problemResponse(new ApiProblem('malformed', error.message));
  }
  if (hungUp(c)) {
    c.var.deps.log.info({ err: error, requestId: c.var.requestId }, 'whoever asked hung up');
    return problemResponse(new ApiProblem('malformed', 'The request ended before it was whole.'));
  }
  c.var.deps.log.error({ err: error, requestId: c.var.requestId }, 'a request failed');
  return problemResponse(await failure(c, error));
}

/** Whether the line ended within the request: nobody reads the answer, and nothing is wrong here. */
const hungUp = ({ env: { incoming } }: Context<AppEnv>): boolean =>
  incoming?.destroyed === true && !incoming.complete;

/** Why something failed that was asked rightly; what failed may not have said that it was for the database's sake. */
export async function failure(
  { var: { deps, requestId } }: Context<AppEnv>,
  error?: Error,
): Promise<ApiProblem> {
  if ((error && isAway(error)) || (await deps.unready()) !== null)
    return new ApiProblem('notReady', 'The database does not answer now.', {
      headers: { 'retry-after': '5' },
    });
  return new ApiProblem('broken', `Something went wrong on our side (request ${requestId}).`);
}
