import type { ReadCard } from './card.ts';
import type { FactName } from './fact-name.ts';
import type { Facts, FactValue, Phrase, Wording } from './facts/declaration.ts';
import { factNames, facts } from './facts.ts';
import type { Region, Side } from './space/region.ts';
import { both } from './words.ts';

const wordingOf = (card: ReadCard): Wording => ({
  sideManOn: card.head.key.direction === 'outside' ? 'inside' : 'outside',
});

/** A single value as the side of a region, so that one set of words serves both. */
function sideOfValue(name: FactName, value: FactValue): Side {
  if (typeof value !== 'number') return { kind: 'values', name, values: [value], whole: false };
  const bound = { at: value, closed: true };
  return {
    kind: 'interval',
    name,
    from: bound,
    to: bound,
    atStart: false,
    atEnd: false,
    whole: false,
  };
}

/** One fact as measured, in words. */
export function describeFact(card: ReadCard, name: FactName, value: FactValue): string {
  const { subject, says } = facts[name].says(sideOfValue(name, value), wordingOf(card));
  return measuredWords(`${subject} ${says}`);
}

/** What is measured is as exact as anything gets, so it need not be said. */
const measuredWords = (text: string): string => text.replaceAll('exactly ', '');

/** "the key sits 2.0 to 4.0 yd inside and does not rush, and the front is odd"; what is whole goes unsaid. */
export function describeRegion(card: ReadCard, region: Region): string {
  const phrases = region
    .filter((side) => !side.whole)
    .map((side) => facts[side.name as FactName].says(side, wordingOf(card)));
  return joinPhrases(phrases);
}

/** Every known fact in words, in the order of the fact table. */
export function describeFacts(card: ReadCard, known: Partial<Facts>): string {
  const phrases = factNames.flatMap((name) => {
    const value = known[name] ?? null;
    return value === null ? [] : [facts[name].says(sideOfValue(name, value), wordingOf(card))];
  });
  return measuredWords(joinPhrases(phrases));
}

function joinPhrases(phrases: readonly Phrase[]): string {
  const bySubject = new Map<string, string[]>();
  for (const { subject, says } of phrases) {
    bySubject.set(subject, [...(bySubject.get(subject) ?? []), says]);
  }
  return both([...bySubject].map(([subject, says]) => `${subject} ${both(says)}`));
}
