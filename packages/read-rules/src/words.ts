import type { IntervalSide, Side } from './space/region.ts';

/** Yards as a coach writes them: one decimal, a second only where it is needed. */
export function yards(n: number): string {
  const short = Number(n.toFixed(2));
  return Number.isInteger(short * 10) ? short.toFixed(1) : String(short);
}

/** "a, b or c". */
export const either = (words: readonly string[]): string => list(words, 'or');

/** "a, b and c". */
export const both = (words: readonly string[]): string => list(words, 'and');

const list = (words: readonly string[], last: string): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`;

type Ends = Pick<IntervalSide, 'from' | 'to' | 'atStart' | 'atEnd'>;

function range({ from, to, atStart, atEnd }: Ends, say: (n: number) => string): string {
  if (from.at === to.at) return `exactly ${say(from.at)}`;
  if (atStart && atEnd) return 'any number of';
  if (atStart) return to.closed ? `${say(to.at)} or less` : `less than ${say(to.at)}`;
  if (atEnd) return from.closed ? `${say(from.at)} or more` : `more than ${say(from.at)}`;
  if (from.closed && to.closed) return `${bare(from.at)} to ${say(to.at)}`;
  if (from.closed) return `${say(from.at)} or more but less than ${say(to.at)}`;
  if (to.closed) return `more than ${bare(from.at)} and up to ${say(to.at)}`;
  return `between ${bare(from.at)} and ${say(to.at)}`;
}
const bare = yards;
const inYards = (n: number): string => `${yards(n)} yd`;

/** "2.0 to 4.0 yd", "less than 3.0 yd". */
export const describeDepth = (side: Side): string =>
  side.kind === 'interval' ? range(side, inYards) : '';

/** "4", "5 or more", "2 to 4". */
export function describeCount(side: Side): string {
  if (side.kind !== 'interval') return '';
  const { from, to, atStart, atEnd } = side;
  if (from.at === to.at) return from.at === 0 ? 'none' : String(from.at);
  if (atStart && atEnd) return 'any number';
  if (atStart) return `${to.at} or fewer`;
  return atEnd ? `${from.at} or more` : `${from.at} to ${to.at}`;
}

/** The words of a length that has a direction: above zero, below it, and at it. */
export interface Directed {
  readonly over: string;
  readonly under: string;
  readonly zero: string;
}

/** A directed length without minus signs: "2.0 to 4.0 yd inside", "head-up or outside". */
export function describeDirected(side: Side, words: Directed): string {
  if (side.kind !== 'interval') return '';
  const { from, to, atStart, atEnd } = side;
  if (from.at >= 0) return oneSided(side, words.over, words.zero);
  if (to.at <= 0) {
    const mirrored = { from: mirror(to), to: mirror(from), atStart: atEnd, atEnd: atStart };
    return oneSided(mirrored, words.under, words.zero);
  }
  const least = `${inYards(-from.at)} ${words.under}`;
  const most = `${inYards(to.at)} ${words.over}`;
  if (atStart && atEnd) return 'anywhere';
  if (atStart) return `${to.closed ? 'no more' : 'less'} than ${most}`;
  if (atEnd) return `${from.closed ? 'no more' : 'less'} than ${least}`;
  return `between ${least} and ${most}`;
}

/** Where a man stands by an offset, + inside: "sits 2.0 to 4.0 yd inside". */
export const describeOffset = (side: Side): string =>
  side.kind === 'interval'
    ? `sits ${describeDirected(side, { over: 'inside', under: 'outside', zero: 'head-up' })}`
    : '';

const mirror = ({ at, closed }: IntervalSide['from']): IntervalSide['from'] => ({
  at: 0 - at,
  closed,
});

function oneSided(ends: Ends, way: string, zero: string): string {
  const { from, to, atEnd } = ends;
  if (to.at === 0) return `exactly ${zero}`;
  if (from.at === 0 && atEnd) return from.closed ? `${zero} or ${way}` : way;
  if (from.at === 0 && from.closed) {
    return `from ${zero} to ${to.closed ? '' : 'less than '}${inYards(to.at)} ${way}`;
  }
  return `${range(ends, inYards)} ${way}`;
}

/** The words of the values of a side: "drops or sits". */
export const oneOf = (side: Side, labels: Readonly<Record<string, string>>): string =>
  side.kind === 'values'
    ? either(side.values.map((value) => labels[String(value)] ?? String(value)))
    : '';
