import { type Problem, problemSchema } from '@stemline/protocol/problem';

/** What went wrong with a request, in words that a screen can show where the request was made. */
export class ApiProblem extends Error {
  override readonly name = 'ApiProblem';
  readonly problem: Problem;

  constructor(problem: Problem) {
    super(`${problem.title}: ${problem.detail}`);
    this.problem = problem;
  }

  get status(): number {
    return this.problem.status;
  }
}

/** Status 0: no answer came at all. */
export const noAnswer = (): ApiProblem =>
  new ApiProblem({
    type: 'about:blank',
    title: 'No connection',
    status: 0,
    detail: 'The server did not answer.',
    mend: 'Check the network, then try again.',
  });

/** Reads any answer that is not a success; understands answers of a proxy that knows nothing of us. */
export async function problemOf(response: Response): Promise<ApiProblem> {
  const told = problemSchema.safeParse(parseJson(await response.text()));
  if (told.success) return new ApiProblem(told.data);
  return new ApiProblem({
    type: 'about:blank',
    title: response.status >= 500 ? 'The server failed' : 'The server refused this',
    status: response.status,
    detail: `It answered ${response.status}${response.statusText === '' ? '' : ` (${response.statusText})`} without a reason.`,
    mend:
      response.status >= 500
        ? 'Try again in a minute.'
        : 'Load the page again, then try once more.',
  });
}

/** An answer that is not what this build expects: server and page are of different versions. */
export const unreadable = (detail: string): ApiProblem =>
  new ApiProblem({
    type: 'about:blank',
    title: 'The answer could not be read',
    status: 0,
    detail,
    mend: 'Load the page again to get the newest version of Stemline.',
  });

/** Whatever was thrown, as a problem to show. */
export function asProblem(error: unknown): Problem {
  if (error instanceof ApiProblem) return error.problem;
  return {
    type: 'about:blank',
    title: 'Something broke on this page',
    status: 0,
    detail: error instanceof Error ? error.message : String(error),
    mend: 'Load the page again. What was saved is safe.',
  };
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
