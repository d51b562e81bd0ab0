import { maxArchiveBytes } from '@stemline/protocol/api/archive';
import { bodyLimit } from 'hono/body-limit';
import { every } from 'hono/combine';
import { createMiddleware } from 'hono/factory';
import type { AppEnv } from '../api/context.ts';
import { ApiProblem } from '../api/problem.ts';
import { mustBeStorable, storableJson } from './storable-json.ts';

/** Bytes of one request's body; a look's recipe, the largest thing sent, is a tenth of it. */
export const maxBodyBytes = 262_144;

/** The one route that takes more, a whole staff, and reads it on a thread of its own. */
const importPath = '/api/staffs/import';

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
