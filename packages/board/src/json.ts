/** A value that survives JSON unchanged: what an element of a board may be. */
export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [key: string]: Json };

const maxDepth = 24;
const unfit = /\0|\p{Surrogate}/u;

/**
 * UTF-8 cannot carry half a character: two editors would then hold different strings. Postgres cannot keep
 * NUL in text, and what goes into a board goes into sign-offs and archives too.
 */
export const isFitText = (text: string): boolean => !unfit.test(text);

/** Why a value is not plain JSON, or null when it is. Shared types, dates, bytes, NaN and odd prototypes are not. */
export function whyNotJson(value: unknown, depth = 0): string | null {
  if (depth > maxDepth) return `it is nested deeper than ${maxDepth}`;
  if (value === null || typeof value === 'boolean') return null;
  if (typeof value === 'string')
    return isFitText(value) ? null : 'a text holds half a character or NUL';
  if (typeof value === 'number') return Number.isFinite(value) ? null : 'a number is not finite';
  if (Array.isArray(value)) {
    for (const item of value) {
      const why = whyNotJson(item, depth + 1);
      if (why !== null) return why;
    }
    return null;
  }
  if (typeof value !== 'object' || !isPlain(value)) return 'it is not plain data';
  for (const [key, item] of Object.entries(value)) {
    const why = isFitText(key)
      ? whyNotJson(item, depth + 1)
      : 'a name holds half a character or NUL';
    if (why !== null) return why;
  }
  return null;
}

/** No prototype at all is plain too: ProseMirror makes the attributes of a mark so. */
function isPlain(value: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}

/** Equal as JSON; the order of names does not matter, and -0 equals 0. */
export function sameJson(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((item, i) => sameJson(item, b[i]))
    );
  }
  const left = Object.entries(a);
  const right = b as Record<string, unknown>;
  return (
    left.length === Object.keys(b).length &&
    left.every(([key, item]) => Object.hasOwn(right, key) && sameJson(item, right[key]))
  );
}

/** Freezes a value with everything in it and gives it back. */
export function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
  }
  if (typeof value === 'object' && value !== null) Object.values(value).forEach(deepFreeze);
  return value;
}
