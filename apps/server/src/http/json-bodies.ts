import { maxArchiveBytes } from '@stemline/protocol/api/archive';
import { bodyLimit } from 'hono/body-limit';
import { every } from 'hono/combine';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';

/** Bytes of one request's body; a look's recipe, the largest thing sent, is a tenth of it. */
export const maxBodyBytes = 262_144;

/** The one route that takes more: a whole staff. */
export const importPath = '/api/staffs/import';

const limit = (maxSize: number) =>
  bodyLimit({
    maxSize,
    onError: () => {
      throw new ApiProblem('tooLarge', `A body may have ${maxSize} bytes.`);
    },
  });
const [usual, archive] = [limit(maxBodyBytes), limit(maxArchiveBytes)];
const limited = createMiddleware<AppEnv>((c, next) =>
  (c.req.path === importPath ? archive : usual)(c, next),
);

/** Bodies are JSON, of bounded size, and hold only text that can be stored. */
const storable = createMiddleware<AppEnv>(async (c, next) => {
  const found = unstorable(c.req.query(), 'query');
  if (found) throw cannotKeep(found);
  // Node gives every POST and DELETE a body, an empty one where nothing was sent.
  const text = c.req.raw.body ? await c.req.text() : '';
  if (text !== '') {
    const type = c.req.header('content-type') ?? '';
    if (!/^application\/json\s*(;|$)/i.test(type)) {
      throw new ApiProblem(
        'unsupportedMedia',
        `The body came as ${type === '' ? 'no type at all' : type}.`,
      );
    }
    const inBody = unstorable(parse(text), 'body');
    if (inBody) throw cannotKeep(inBody);
  }
  await next();
});

export const jsonBodies = every(limited, storable);

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new ApiProblem('malformed', 'The body is not well-formed JSON.');
  }
}

const cannotKeep = (path: string): ApiProblem =>
  new ApiProblem('invalid', `${path}: holds a character that text cannot have.`, {
    where: [{ path, message: 'holds a character that text cannot have (NUL, or half of a pair)' }],
  });

/** NUL, or half of a surrogate pair. */
const unfit = /\0|\p{Surrogate}/u;

/** Lists and objects within each other; what goes over the API needs half of it. */
const maxDepth = 100;

/** Where a string is that the database could not keep; null when there is none. */
function unstorable(value: unknown, path: string, depth = 0): string | null {
  if (typeof value === 'string') return unfit.test(value) ? path : null;
  if (typeof value !== 'object' || value === null) return null;
  if (depth > maxDepth)
    throw new ApiProblem('malformed', `The body is nested deeper than ${maxDepth}.`);
  for (const [key, inner] of Object.entries(value)) {
    const found = unstorable(key, path) ?? unstorable(inner, `${path}.${key}`, depth + 1);
    if (found) return found;
  }
  return null;
}
