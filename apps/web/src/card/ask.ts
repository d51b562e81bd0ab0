import type { Bound, Condition } from '@stemline/read-rules/card';
import { conditionSchema } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { facts } from '@stemline/read-rules/facts';
import { readNumber } from '../common/draft-number.tsx';

/** One end of a range as it is typed. */
export interface AskedBound {
  kind: 'any' | 'closed' | 'open';
  text: string;
}

/** What a cell asks while it is being edited; text stays as it was typed. */
export type Ask =
  | { kind: 'range'; from: AskedBound; to: AskedBound }
  | { kind: 'is'; value: boolean | null }
  | { kind: 'oneOf'; values: readonly string[] };

const boundAsk = (bound: Bound | null): AskedBound =>
  bound === null
    ? { kind: 'any', text: '' }
    : { kind: bound.closed ? 'closed' : 'open', text: String(bound.at) };

/** The cell as it stands; without a condition every value is allowed. */
export function askOf(fact: FactName, condition: Condition | undefined): Ask {
  const { domain } = facts[fact];
  switch (domain.kind) {
    case 'boolean':
      return { kind: 'is', value: condition?.kind === 'is' ? condition.value : null };
    case 'enumerated':
      return { kind: 'oneOf', values: condition?.kind === 'oneOf' ? condition.values : [] };
    case 'continuous':
      return condition?.kind === 'range'
        ? { kind: 'range', from: boundAsk(condition.from), to: boundAsk(condition.to) }
        : { kind: 'range', from: boundAsk(null), to: boundAsk(null) };
  }
}

/** What a cell comes to: a condition, nothing asked, or what is wrong with it. */
export type Answered = { ok: true; condition: Condition | null } | { ok: false; wrong: string };

function bound({ kind, text }: AskedBound): Bound | null | string {
  if (kind === 'any') return null;
  const at = readNumber(text);
  return Number.isNaN(at) ? `“${text}” is not a number.` : { at, closed: kind === 'closed' };
}

export function conditionFrom(fact: FactName, ask: Ask): Answered {
  if (ask.kind === 'is') {
    return {
      ok: true,
      condition: ask.value === null ? null : { kind: 'is', fact, value: ask.value },
    };
  }
  const { domain } = facts[fact];
  if (ask.kind === 'oneOf') {
    const all = domain.kind === 'enumerated' && domain.values.every((v) => ask.values.includes(v));
    return ask.values.length === 0 || all
      ? { ok: true, condition: null }
      : { ok: true, condition: { kind: 'oneOf', fact, values: ask.values } };
  }
  const from = bound(ask.from);
  const to = bound(ask.to);
  if (typeof from === 'string') return { ok: false, wrong: from };
  if (typeof to === 'string') return { ok: false, wrong: to };
  if (from === null && to === null) return { ok: true, condition: null };
  if (from && to && (from.at > to.at || (from.at === to.at && !(from.closed && to.closed)))) {
    return { ok: false, wrong: 'Nothing lies between these two.' };
  }
  if (domain.kind === 'continuous') {
    for (const end of [from, to]) {
      if (end && (end.at < domain.min || end.at > domain.max)) {
        return { ok: false, wrong: `It can only be ${domain.min} to ${domain.max}.` };
      }
    }
  }
  const read = conditionSchema.safeParse({ kind: 'range', fact, from, to });
  return read.success
    ? { ok: true, condition: read.data }
    : { ok: false, wrong: read.error.issues[0]?.message ?? 'This cannot be asked.' };
}
