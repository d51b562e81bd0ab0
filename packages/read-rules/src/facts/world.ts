import type { Condition } from '../card.ts';
import type { FactName } from '../fact-name.ts';
import { facts } from '../facts.ts';

/** Facts that no defence on a field can show together. */
export interface Impossible {
  readonly why: string;
  readonly together: readonly Condition[];
}

const is = (fact: FactName, value: boolean): Condition => ({ kind: 'is', fact, value });
const among = (fact: FactName, values: readonly string[]): Condition => ({
  kind: 'oneOf',
  fact,
  values,
});
const atMost = (fact: FactName, at: number): Condition => ({
  kind: 'range',
  fact,
  from: null,
  to: { at, closed: true },
});
const atLeast = (fact: FactName, at: number): Condition => ({
  kind: 'range',
  fact,
  from: { at, closed: true },
  to: null,
});

const { domain } = facts.keyMove;
const notRushing =
  domain.kind === 'enumerated' ? domain.values.filter((move) => move !== 'rush') : [];
const rushing = ['rush'];

/**
 * What the world rules out. A gap or clash that lies in here is no finding. An entry counts only
 * where a card asks about all of its facts, so the list must be closed: where two entries share a
 * fact and rule out something about the others, that is an entry too.
 */
export const impossible: readonly Impossible[] = [
  {
    why: 'a key who rushes does nothing else',
    together: [is('keyRushes', true), among('keyMove', notRushing)],
  },
  {
    why: 'a key whose move is the rush rushes',
    together: [is('keyRushes', false), among('keyMove', rushing)],
  },
  {
    why: 'a key who rushes is one of the rushers',
    together: [is('keyRushes', true), atMost('rushers', 0)],
  },
  {
    why: 'a key who rushes is one of the rushers',
    together: [among('keyMove', rushing), atMost('rushers', 0)],
  },
  {
    why: 'where all eleven rush, the key does',
    together: [is('keyRushes', false), atLeast('rushers', 11)],
  },
  {
    why: 'where all eleven rush, the key does',
    together: [among('keyMove', notRushing), atLeast('rushers', 11)],
  },
];
