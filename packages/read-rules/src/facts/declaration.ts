import type { FactName } from '../fact-name.ts';
import type { Reader } from '../reader.ts';
import type { Domain } from '../space/column.ts';
import type { Side } from '../space/region.ts';
import type { Sighting } from './sighting.ts';

export type FactValue = number | boolean | string;

/** Facts as measured; null where one has no meaning: a fact about the key when there is none. */
export type Facts = Readonly<Record<FactName, FactValue | null>>;

/** When a reader can know a fact. */
export type Sight =
  | { readonly when: 'beforeSnap' }
  /** This many seconds after the snap. */
  | { readonly when: 'afterSnap'; readonly seconds: number }
  /** Once he is this many yards past the line. */
  | { readonly when: 'byDepth'; readonly yards: number }
  | { readonly when: 'never' };

/** What a fact is measured on; a look is turned into a witness by moving only what its facts hang on. */
export type HangsOn = 'key' | 'sideMan' | 'neighbours' | 'look' | 'play';

/** A part of a sentence: "the key" + "does not rush". Subjects that are equal share one mention. */
export interface Phrase {
  readonly subject: string;
  readonly says: string;
}

export interface FactDeclaration {
  readonly name: FactName;
  /** For a heading or a menu. */
  readonly label: string;
  /** One line of help: what exactly is measured, and when. */
  readonly help: string;
  /** Continuous: what a row may ask with a range; boolean: with `is`; enumerated: with `oneOf`. */
  readonly domain: Domain;
  /** 'yd', 'men' or '' for what has no unit. */
  readonly unit: 'yd' | 'men' | '';
  /** Words for the values of an enumerated domain, by value; empty otherwise. */
  readonly valueLabels: Readonly<Record<string, string>>;
  readonly hangsOn: HangsOn;
  readonly seenBy: Readonly<Record<Reader, Sight>>;
  /** What a side of a region says of this fact; for a single value give a side of that value alone. */
  readonly says: (side: Side, words: Wording) => Phrase;
  /** The fact in this sighting; null where it has no meaning (no key). Never outside the domain. */
  readonly measure: (sighting: Sighting) => FactValue | null;
}

/** What sentences need to know of the card they speak about. */
export interface Wording {
  /** "inside" or "outside": the side that the scan looks away from is where a bracket's second man stands. */
  readonly sideManOn: 'inside' | 'outside';
}

/** Seen before the snap by everybody. */
export const beforeSnap: Readonly<Record<Reader, Sight>> = {
  runner: { when: 'beforeSnap' },
  passer: { when: 'beforeSnap' },
  blocker: { when: 'beforeSnap' },
};

/** Seen by everybody this long after the snap. */
export const afterSnap = (seconds: number): Readonly<Record<Reader, Sight>> => ({
  runner: { when: 'afterSnap', seconds },
  passer: { when: 'afterSnap', seconds },
  blocker: { when: 'afterSnap', seconds },
});
