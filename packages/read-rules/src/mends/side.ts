import type { Bound, Condition, Row } from '../card.ts';
import type { FactName } from '../fact-name.ts';
import type { Domain } from '../space/column.ts';
import type { Side } from '../space/region.ts';

/** What is asked of one fact, in its own values: every end of an interval is given. */
export type Asked =
  | { readonly kind: 'interval'; readonly from: Bound; readonly to: Bound }
  | { readonly kind: 'values'; readonly values: readonly (boolean | string)[] };

export const wholeOf = (domain: Domain): Asked =>
  domain.kind === 'continuous'
    ? {
        kind: 'interval',
        from: { at: domain.min, closed: true },
        to: { at: domain.max, closed: true },
      }
    : { kind: 'values', values: domain.kind === 'boolean' ? [false, true] : domain.values };

/** What a row asks of a fact: all its conditions on it together, within the domain. */
export const askedBy = ({ conditions }: Row, fact: FactName, domain: Domain): Asked =>
  conditions
    .filter((condition) => condition.fact === fact)
    .reduce((asked, condition) => both(asked, of(condition, domain)), wholeOf(domain));

function of(condition: Condition, domain: Domain): Asked {
  switch (condition.kind) {
    case 'is':
      return { kind: 'values', values: [condition.value] };
    case 'oneOf':
      return { kind: 'values', values: condition.values };
    case 'range': {
      const whole = wholeOf(domain);
      return whole.kind === 'interval'
        ? { kind: 'interval', from: condition.from ?? whole.from, to: condition.to ?? whole.to }
        : whole;
    }
  }
}

/** Values that both ask for. */
export function both(a: Asked, b: Asked): Asked {
  if (a.kind === 'values' && b.kind === 'values') {
    return { kind: 'values', values: a.values.filter((value) => b.values.includes(value)) };
  }
  return a.kind === 'interval' && b.kind === 'interval'
    ? { kind: 'interval', from: later(a.from, b.from), to: sooner(a.to, b.to) }
    : { kind: 'values', values: [] };
}

const later = (a: Bound, b: Bound): Bound =>
  a.at === b.at ? (a.closed ? b : a) : a.at > b.at ? a : b;
const sooner = (a: Bound, b: Bound): Bound =>
  a.at === b.at ? (a.closed ? b : a) : a.at < b.at ? a : b;

export const isEmpty = (asked: Asked): boolean =>
  asked.kind === 'values'
    ? asked.values.length === 0
    : asked.from.at > asked.to.at ||
      (asked.from.at === asked.to.at && !(asked.from.closed && asked.to.closed));

/** What the first asks for and the second does not: none, one part, or one below and one above. */
export function less(a: Asked, b: Asked): readonly Asked[] {
  if (a.kind === 'values' && b.kind === 'values') {
    const values = a.values.filter((value) => !b.values.includes(value));
    return values.length > 0 ? [{ kind: 'values', values }] : [];
  }
  if (a.kind === 'values' || b.kind === 'values') return [a];
  const below: Asked = { ...a, to: sooner(a.to, { at: b.from.at, closed: !b.from.closed }) };
  const above: Asked = { ...a, from: later(a.from, { at: b.to.at, closed: !b.to.closed }) };
  return [below, above].filter((part) => !isEmpty(part));
}

/** As a condition; an end that lies where the domain ends is left open. */
export function conditionOn(fact: FactName, asked: Asked, domain: Domain): Condition {
  if (asked.kind === 'values') {
    const [only] = asked.values;
    return typeof only === 'boolean'
      ? { kind: 'is', fact, value: only }
      : { kind: 'oneOf', fact, values: asked.values.map(String) };
  }
  const { from, to } = asked;
  const ends = domain.kind === 'continuous' ? domain : { min: Number.NaN, max: Number.NaN };
  return {
    kind: 'range',
    fact,
    from: from.closed && from.at === ends.min ? null : from,
    to: to.closed && to.at === ends.max ? null : to,
  };
}

/** One side of a region as a condition. */
export const conditionOfSide = (side: Side): Condition => {
  const fact = side.name as FactName;
  if (side.kind === 'interval') {
    const { from, to, atStart, atEnd } = side;
    return { kind: 'range', fact, from: atStart ? null : from, to: atEnd ? null : to };
  }
  const [only] = side.values;
  return typeof only === 'boolean'
    ? { kind: 'is', fact, value: only }
    : { kind: 'oneOf', fact, values: side.values.map(String) };
};
