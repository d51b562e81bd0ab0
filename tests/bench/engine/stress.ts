/**
 * Stress tables are made as in Calvanese et al. 2016 and 2018 (read-rules-calvanese.test.ts): the
 * whole space is split at random until there are enough rows, then a tenth of the rows are
 * disturbed, so that gaps and overlaps appear. Published for 502 × 7 and 1,496 × 7 on one 2.2 GHz
 * core: overlaps 1.4 s and 13.4 s (2018), missing rules 2.2 s and 18.3 s.
 */
import type { Condition, Row } from '@stemline/read-rules/card';
import type { FactName } from '@stemline/read-rules/fact-name';
import { factSpace } from '@stemline/read-rules/fact-space';
import { prove } from '@stemline/read-rules/prove';
import type { Axis } from '@stemline/read-rules/space/column';
import { card, doubles, is, oneOf, range, row } from '@stemline/read-rules/testing/cards';
import { type Figure, lower } from '../figure.ts';
import { exponent, quickest, type Say } from './measure.ts';

/** Mulberry32 (public domain): the same numbers from the same seed. */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Eight facts, the first three of which are used for three, and so on. */
const asked: readonly Condition[] = [
  range('keyOffset', '[0,1]'),
  range('roomInside', '[0,1]'),
  oneOf('keyMove', 'rush'),
  range('keyDepth', '[0,1]'),
  range('roomOutside', '[0,1]'),
  oneOf('mikeLean', 'none'),
  range('cushion', '[0,1]'),
  is('manOutside', true),
];

const play = doubles();
/** The axes as the prover itself lays them for a card that asks about these facts. */
const axesOf = (facts: number): readonly Axis[] =>
  factSpace(play, card([row('all', 'in', ...asked.slice(0, facts))])).axes;

type Part =
  | { readonly from: number; readonly to: number; readonly last: boolean }
  | { readonly values: readonly (string | boolean)[] };

const wholeOf = ({ domain }: Axis): Part =>
  domain.kind === 'continuous'
    ? { from: domain.min, to: domain.max, last: true }
    : { values: domain.kind === 'boolean' ? [false, true] : domain.values };

/** Splits the space at random into as many rows, then disturbs a tenth of them. */
function stressRows(axes: readonly Axis[], rows: number, next: () => number): Row[] {
  const parts: Part[][] = [axes.map(wholeOf)];
  while (parts.length < rows) {
    const at = Math.floor(next() * parts.length);
    const column = Math.floor(next() * axes.length);
    const part = parts[at]?.[column];
    const halves = part && split(part, next());
    if (!halves) continue;
    const [a, b] = halves.map((half) =>
      (parts[at] ?? []).map((old, c) => (c === column ? half : old)),
    );
    if (a && b) parts.splice(at, 1, a, b);
  }
  return parts.map((part, i) => {
    const disturbed = next() < 0.1 ? Math.floor(next() * axes.length) : -1;
    const conditions = axes.flatMap((axis, column) => {
      const side = part[column] ?? wholeOf(axis);
      return conditionOf(
        axis.name as FactName,
        column === disturbed ? disturb(axis, side, next()) : side,
      );
    });
    return row(`r${i}`, ['in', 'out', 'sit'][i % 3] ?? 'in', ...conditions);
  });
}

/** To a hundredth of a yard, so that neighbours share their bound. */
const hundredth = (n: number): number => Math.round(n * 100) / 100;

function split(part: Part, share: number): readonly [Part, Part] | null {
  if ('values' in part) {
    if (part.values.length < 2) return null;
    const at = 1 + Math.floor(share * (part.values.length - 1));
    return [{ values: part.values.slice(0, at) }, { values: part.values.slice(at) }];
  }
  const at = hundredth(part.from + share * (part.to - part.from));
  if (at <= part.from || at >= part.to) return null;
  return [
    { from: part.from, to: at, last: false },
    { from: at, to: part.to, last: part.last },
  ];
}

function disturb(axis: Axis, part: Part, share: number): Part {
  const whole = wholeOf(axis);
  if ('values' in whole || 'values' in part) {
    return 'values' in whole
      ? { values: whole.values.slice(Math.floor(share * whole.values.length)).slice(0, 1) }
      : part;
  }
  const shift = hundredth((share - 0.5) * 0.2 * (whole.to - whole.from));
  const from = Math.min(whole.to, Math.max(whole.from, part.from + shift));
  return { from, to: Math.max(from, Math.min(whole.to, part.to + shift)), last: true };
}

/** No condition where both values of a boolean will do. */
function conditionOf(fact: FactName, part: Part): Condition[] {
  if ('values' in part) {
    const [first] = part.values;
    if (typeof first !== 'boolean') return [oneOf(fact, ...part.values.map(String))];
    return part.values.length === 2 ? [] : [is(fact, first)];
  }
  return [
    {
      kind: 'range',
      fact,
      from: { at: part.from, closed: true },
      to: { at: part.to, closed: part.last },
    },
  ];
}

/** Milliseconds to prove a stress table under both policies, one after the other; the better of three. */
function proofOf(count: number, facts: number): number {
  const rows = stressRows(axesOf(facts), count, random(count * 31 + facts));
  const cards = (['unique', 'first'] as const).map((policy) => card(rows, { policy }));
  return quickest(3, () => {
    for (const read of cards) prove(play, read);
  });
}

/** How a proof grows with rows and with facts; the goals are for the two sizes that are published. */
export function stress(say: Say): readonly Figure[] {
  const sizes = [125, 250, 500, 1000, 1500];
  const byFacts = [3, 5, 7, 8].map((facts) => {
    const times = sizes.map((count) => proofOf(count, facts));
    say(
      `${facts} facts: ${sizes.map((n, i) => `${n} rows ${times[i]?.toFixed(0)} ms`).join(', ')}`,
    );
    return { facts, times };
  });
  const eight = byFacts.find(({ facts }) => facts === 8)?.times ?? [];
  const at500 = byFacts.map(({ times }) => times[2] ?? Number.NaN);
  return [
    lower('proof of 500 rows × 8 facts, both policies', eight[2] ?? Number.NaN, 'ms', 500),
    lower('proof of 1,500 rows × 8 facts, both policies', eight[4] ?? Number.NaN, 'ms', 5000),
    lower('proof grows with rows, 8 facts', exponent(sizes, eight), 'exponent'),
    lower('proof grows with facts, 500 rows', exponent([3, 5, 7, 8], at500), 'exponent'),
  ];
}
