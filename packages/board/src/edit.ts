import type { z } from 'zod';
import { whyNotJson } from './json.ts';

/** Why an edit was not made; nothing has changed then. */
export type EditError =
  /** A value that no board can hold; `where` is the path inside it. */
  | { readonly code: 'invalid'; readonly where: readonly string[]; readonly why: string }
  /** The player, card, row or branch that it is about is not on this board. */
  | { readonly code: 'unknown'; readonly why: string }
  /** One with this id is there already. */
  | { readonly code: 'taken'; readonly why: string }
  /** The board or the card is full. */
  | { readonly code: 'tooMany'; readonly why: string };

export interface Refused {
  readonly ok: false;
  readonly error: EditError;
}
export type EditResult = { readonly ok: true } | Refused;

export const done: EditResult = { ok: true };
export const refuse = (code: 'unknown' | 'taken' | 'tooMany', why: string): Refused => ({
  ok: false,
  error: { code, why },
});

type Checked<T> = { readonly ok: true; readonly value: T } | Refused;

/** The value as the document will hold it, or why it cannot hold it. */
export function check<S extends z.ZodType>(schema: S, value: unknown): Checked<z.infer<S>> {
  const parsed = schema.safeParse(value);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return {
      ok: false,
      error: {
        code: 'invalid',
        where: (issue?.path ?? []).map(String),
        why: issue?.message ?? 'this cannot be kept',
      },
    };
  }
  const plain = withoutMinusZero(parsed.data);
  const why = whyNotJson(plain);
  if (why !== null) return { ok: false, error: { code: 'invalid', where: [], why } };
  return { ok: true, value: plain as z.infer<S> };
}

/** -0 and 0 are one place on the field, and JSON cannot tell them apart. */
function withoutMinusZero(value: unknown): unknown {
  if (value === 0) return 0;
  if (Array.isArray(value)) return value.map(withoutMinusZero);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, item]) => item !== undefined)
      .map(([key, item]) => [key, withoutMinusZero(item)]),
  );
}
