import type { Problem } from '@stemline/protocol/problem';
import type { z } from 'zod';

/** Every problem the API can answer with: its status, its name in words, and what to do about it. */
export const problemKinds = {
  malformed: [400, 'The request could not be read', 'Send well-formed JSON.'],
  notSignedIn: [401, 'Not signed in', 'Sign in, then try again.'],
  noToken: [
    401,
    'Not open to you',
    'Ask from the machine it runs on, or send METRICS_TOKEN as a bearer token.',
  ],
  notAllowed: [403, 'Not allowed', 'Ask the head coach.'],
  foreignOrigin: [403, 'Sent from another site', 'Open Stemline under its own address.'],
  notFound: [
    404,
    'Not found',
    'Check the link; it may have been removed, or belong to another staff.',
  ],
  conflict: [
    409,
    'This does not fit what is there now',
    'Load the page again to see how it stands.',
  ],
  alreadySentUp: [409, 'Already sent up', 'Wait for the head coach, or withdraw what was sent.'],
  nothingChanged: [409, 'Nothing has changed', 'Change the play first.'],
  alreadyDecided: [409, 'Already decided', 'Load the page again to see what was decided.'],
  blocked: [
    409,
    'Findings block the sign-off',
    'Mend the play, or waive each finding with a reason.',
  ],
  archived: [409, 'The play is archived', 'Restore it first.'],
  lastHeadCoach: [409, 'The staff needs a head coach', 'Make somebody else head coach first.'],
  alreadyMember: [409, 'Already on this staff', 'Open the staff’s book.'],
  nameTaken: [409, 'The name is taken', 'Choose another name.'],
  full: [409, 'There is no room for more', 'Remove what is not needed any more.'],
  gone: [410, 'The invitation no longer holds', 'Ask for a new link.'],
  tooSlow: [408, 'The request came too slowly', 'Try again over a better line.'],
  headersTooLarge: [431, 'The headers are too large', 'Send less in them.'],
  tooLarge: [413, 'Too large', 'Send less.'],
  unsupportedMedia: [415, 'Not JSON', 'Send the body as application/json.'],
  invalid: [422, 'Something in it does not fit', 'Mend the places named, then send it again.'],
  tooMany: [429, 'Too many requests', 'Wait a little, then try again.'],
  lockedOut: [429, 'Too many wrong passwords', 'Wait a quarter of an hour, then try again.'],
  broken: [
    500,
    'The server failed',
    'Try again; if it stays, tell whoever runs the server, with the request id.',
  ],
  notReady: [503, 'Not ready', 'Try again in a moment.'],
} as const satisfies Record<string, readonly [number, string, string]>;
export type ProblemKind = keyof typeof problemKinds;

interface Extras {
  right?: Problem['right'];
  where?: Problem['where'];
  mend?: string;
  headers?: Record<string, string>;
}

/** Thrown anywhere below the API; its edge answers with it. */
export class ApiProblem extends Error {
  override name = 'ApiProblem';
  readonly kind: ProblemKind;
  readonly problem: Problem;
  readonly headers: Record<string, string>;

  constructor(kind: ProblemKind, detail: string, extras: Extras = {}) {
    super(detail);
    this.kind = kind;
    const [status, title, mend] = problemKinds[kind];
    this.problem = {
      type: `urn:stemline:problem:${kind}`,
      title,
      status,
      detail,
      mend: extras.mend ?? mend,
      ...(extras.right ? { right: extras.right } : {}),
      ...(extras.where ? { where: extras.where } : {}),
    };
    this.headers = extras.headers ?? {};
  }
}

/** Places that are named at most: whoever sent worse mends these first. */
const maxPlaces = 50;

/** Input that does not fit its schema, the places named; `part`: of the request. */
export function unfitting(part: string, issues: readonly z.core.$ZodIssue[]): ApiProblem {
  const where = issues.slice(0, maxPlaces).map((issue) => ({
    path: [part, ...issue.path.map(String)].join('.'),
    message: issue.message,
  }));
  const told = where.map(({ path, message }) => `${path}: ${message}`);
  const more = issues.length - where.length;
  return new ApiProblem('invalid', [...told, ...(more > 0 ? [`${more} more`] : [])].join('; '), {
    where,
  });
}

/** What another's and a missing thing both look like. */
export const notFound = (what: string): ApiProblem =>
  new ApiProblem('notFound', `There is no such ${what}.`);

export const problemResponse = ({ problem, headers }: ApiProblem): Response =>
  new Response(JSON.stringify(problem), {
    status: problem.status,
    headers: {
      'content-type': 'application/problem+json',
      'cache-control': 'no-store',
      ...headers,
    },
  });
