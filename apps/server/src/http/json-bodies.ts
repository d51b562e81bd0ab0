import { bodyLimit } from 'hono/body-limit';
import { every } from 'hono/combine';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';
import { mustBeStorable, storableJson } from './storable-json.ts';

/** Bytes of one request's body; a look's recipe, the largest thing sent, is a tenth of it. */
export const maxBodyBytes = 262_144;

/** The same where nobody need be signed in: a name, an address and passwords are far less. */
export const maxAccountBytes = 16_384;

/** The one route that takes more, a whole staff, and reads it by itself (archive/arriving.ts). */
const importPath = '/api/staffs/import';

const tooLarge = (maxSize: number) =>
  new ApiProblem('tooLarge', `A body may have ${maxSize} bytes.`);
const limit = (maxSize: number) =>
  bodyLimit({
    maxSize,
    onError: () => {
      throw tooLarge(maxSize);
    },
  });
const [usual, account] = [limit(maxBodyBytes), limit(maxAccountBytes)];
const limited = createMiddleware<AppEnv>((c, next) => {
  const { path } = c.req;
  if (path === importPath) return next();
  return (path.startsWith('/api/auth/') ? account : usual)(c, next);
});

/** Bodies are JSON, of bounded size, and hold only text that can be stored. */
const storable = createMiddleware<AppEnv>(async (c, next) => {
  mustBeStorable(c.req.query(), 'query');
  if (c.req.path === importPath) mustBeJson(c.req.header('content-type'));
  else {
    // Node gives every POST and DELETE a body, an empty one where nothing was sent.
    const text = c.req.raw.body ? await c.req.text() : '';
    if (text !== '') {
      mustBeJson(c.req.header('content-type'));
      storableJson(text);
    }
  }
  await next();
});

export const jsonBodies = every(limited, storable);

function mustBeJson(type = ''): void {
  if (/^application\/json\s*(;|$)/i.test(type)) return;
  throw new ApiProblem('unsupportedMedia', `The body came as ${type || 'no type at all'}.`);
}
