import type { z } from '@hono/zod-openapi';
import { problemSchema } from '@stemline/protocol/problem';
import { type ProblemKind, problemKinds } from './problem.ts';

/** A JSON answer. */
export const json = <Schema extends z.ZodType>(schema: Schema, description: string) => ({
  description,
  content: { 'application/json': { schema } },
});

/** A JSON body that must be there. */
export const body = <Schema extends z.ZodType>(schema: Schema) => ({
  required: true as const,
  content: { 'application/json': { schema } },
});

/** Done, and nothing to say about it. */
export const nothing = { description: 'Done.' };

const problem = (...kinds: ProblemKind[]) => ({
  description: kinds.map((kind) => problemKinds[kind][1]).join('; '),
  content: { 'application/problem+json': { schema: problemSchema } },
});

/** What a route that needs a right can always answer. */
export const refusals = {
  401: problem('notSignedIn'),
  403: problem('notAllowed', 'foreignOrigin'),
  404: problem('notFound'),
};
export const invalid = {
  413: problem('tooLarge'),
  415: problem('unsupportedMedia'),
  422: problem('invalid'),
};
export const conflict = (...kinds: ProblemKind[]) => ({ 409: problem(...kinds) });
export const gone = { 410: problem('gone') };
export const tooMany = { 429: problem('tooMany') };
export const noToken = { 401: problem('noToken') };
export const notReady = { 503: problem('notReady') };
