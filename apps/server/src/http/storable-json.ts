import { ApiProblem } from '../api/problem.ts';

/** Lists and objects within each other; what goes over the API needs half of it. */
const maxDepth = 100;

/** Values in one body; the largest thing sent has a tenth of it. */
const maxValues = 20_000;

/** Throws a `malformed` or an `invalid` problem where a body is no JSON, or none that the database could keep. */
export function storableJson(text: string, most = maxValues): unknown {
  const value = parse(text);
  mustBeStorable(value, 'body', most);
  return value;
}

/** Throws an `invalid` problem with the place; `path`: what the value is called. */
export function mustBeStorable(value: unknown, path: string, most = maxValues): void {
  const found = unstorable(value, path, { left: most });
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
function unstorable(
  value: unknown,
  path: string,
  values: { left: number },
  depth = 0,
): string | null {
  values.left -= 1;
  if (values.left < 0) throw new ApiProblem('tooLarge', 'The body holds too many values.');
  if (typeof value === 'string') return unfit.test(value) ? path : null;
  if (typeof value !== 'object' || value === null) return null;
  if (depth > maxDepth)
    throw new ApiProblem('malformed', `The body is nested deeper than ${maxDepth}.`);
  for (const [key, inner] of Object.entries(value)) {
    const found =
      (unfit.test(key) ? path : null) ?? unstorable(inner, `${path}.${key}`, values, depth + 1);
    if (found) return found;
  }
  return null;
}
