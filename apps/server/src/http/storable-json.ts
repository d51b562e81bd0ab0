import { ApiProblem } from '../api/problem.ts';

/** Lists and objects within each other; what goes over the API needs half of it. */
const maxDepth = 100;

/** Throws a `malformed` or an `invalid` problem where a body is no JSON, or none that the database could keep. */
export function storableJson(text: string): unknown {
  const value = parse(text);
  mustBeStorable(value, 'body');
  return value;
}

/** Throws an `invalid` problem with the place; `path`: what the value is called. */
export function mustBeStorable(value: unknown, path: string): void {
  const found = unstorable(value, path);
  if (!found) return;
  const message = 'holds a character that text cannot have (NUL, or half of a pair)';
  throw new ApiProblem('invalid', `${found}: holds a character that text cannot have.`, {
    where: [{ path: found, message }],
  });
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new ApiProblem('malformed', 'The body is not well-formed JSON.');
  }
}

/** NUL, or half of a surrogate pair. */
const unfit = /\0|\p{Surrogate}/u;

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
