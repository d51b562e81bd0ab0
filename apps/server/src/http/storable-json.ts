import { ApiProblem } from '../api/problem.ts';

/** Lists and objects within each other; what goes over the API needs half of it. */
const maxDepth = 100;

/** Values in one body; the largest thing sent has a tenth of it. */
const maxValues = 20_000;

/** Throws a `malformed` or an `invalid` problem where a body is no JSON, or none that the database could keep. */
export function storableJson(text: string, most = maxValues): unknown {
  // Counted before they are made: ten million empty lists keep a processor busy for minutes, and nothing can stop it.
  if (holdsMore(text, most))
    throw new ApiProblem('tooLarge', `A body may hold ${most} values, and this one holds more.`);
  const value = parse(text);
  mustBeStorable(value, 'body');
  return value;
}

/** Whether JSON text holds more values than that; lists and objects count as one more for what is in them. */
function holdsMore(text: string, most: number): boolean {
  let values = 1;
  let isText = false;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === quote) isText = !isText;
    else if (isText) {
      if (code === backslash) i += 1;
    } else if (code === comma || code === openList || code === openObject) {
      values += 1;
      if (values > most) return true;
    }
  }
  return values > most;
}
const [quote, backslash, comma, openList, openObject] = [0x22, 0x5c, 0x2c, 0x5b, 0x7b];

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
