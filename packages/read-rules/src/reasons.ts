import type { Branch, ReadCard, Row, RowId } from './card.ts';
import type { FactName } from './fact-name.ts';
import type { Facts } from './facts/declaration.ts';
import type { Sighting } from './facts/sighting.ts';
import { facts } from './facts.ts';
import type { KeyResult } from './key.ts';
import { describeFact } from './sentence.ts';
import { both } from './words.ts';

/** What answers: a row, one of the card's two standing answers, or nothing. */
export type Answer = RowId | 'whenInDoubt' | 'noKey' | null;

/** What a card comes to before one look. */
export interface Outcome {
  readonly key: KeyResult;
  readonly facts: Facts;
  /** What answers. Null: nothing does. Under `unique`, nothing answers where several rows disagree. */
  readonly row: Answer;
  /** Every row that fits, in the card's order, whatever the hit policy makes of them. */
  readonly fits: readonly RowId[];
  readonly branch: Branch | null;
  /** The rows that fit and disagree; none where the card answers, or nothing fits. */
  readonly torn: readonly Row[];
}

/** Why a card answers as it does, one sentence each: the key, what he saw, what that leads to. */
export function reasonsFor(
  card: ReadCard,
  sighting: Sighting | null,
  outcome: Outcome,
): readonly string[] {
  if (!sighting) return ['The man this card starts from is not on the field.'];
  return [
    keySentence(card, outcome),
    ...seenSentences(card, outcome),
    answerSentence(card, outcome),
  ];
}

function keySentence(card: ReadCard, { key, facts: known }: Outcome): string {
  switch (key.kind) {
    case 'none':
      return 'The scan finds no key.';
    case 'tie':
      return `${both(key.defenders.map(({ label }) => label))} stand too close to tell which is the key.`;
    case 'one': {
      const where = describeFact(card, 'keyOffset', known.keyOffset ?? 0).replace('the key', 'he');
      return `${key.defender.label} is the key: ${where}.`;
    }
  }
}

function seenSentences(card: ReadCard, { facts: known }: Outcome): string[] {
  const asked = askedFacts(card).filter((name) => name !== 'keyOffset');
  return asked.flatMap((name) => {
    const value = known[name];
    if (value === null) return [];
    return [`${capital(describeFact(card, name, value))}.`];
  });
}

function answerSentence(card: ReadCard, { row, fits, branch }: Outcome): string {
  const leadsTo = branch ? branch.name : 'a branch that is not on the card';
  const numbers = fits.map((id) => `row ${rowNumber(card, id)}`);
  if (row === 'noKey') return `No key: ${leadsTo}.`;
  if (row === 'whenInDoubt') return `No row answers. When in doubt: ${leadsTo}.`;
  if (row === null) {
    return fits.length > 1
      ? `${capital(both(numbers))} all fit and disagree.`
      : 'Nothing on the card answers this.';
  }
  return `${capital(`row ${rowNumber(card, row)}`)} answers: ${leadsTo}.`;
}

/** The facts that any row of a card asks about, in the order of the fact table. */
export function askedFacts(card: ReadCard): readonly FactName[] {
  const asked = new Set(card.rows.flatMap(({ conditions }) => conditions.map(({ fact }) => fact)));
  return (Object.keys(facts) as FactName[]).filter((name) => asked.has(name));
}

/** Rows are counted from one, as the card shows them. */
export const rowNumber = (card: ReadCard, id: RowId): number =>
  card.rows.findIndex((row) => row.id === id) + 1;

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
