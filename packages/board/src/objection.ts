import type { ElementKey } from './element-key.ts';
import { maxStructsOfUpdate, maxWritersOfMember } from './limits.ts';
import type { RefusalCode } from './refusal.ts';
import type { Shadow } from './shadow.ts';
import type { Refusal } from './verdict.ts';
import { elementWords } from './words.ts';

/** What speaks against an update. */
export interface Objection {
  readonly code: RefusalCode;
  readonly why: string;
  readonly mend: string;
  readonly elements?: readonly ElementKey[];
  readonly awaits?: Refusal['awaits'];
}

export const afresh =
  'Open the board again; what you did is kept, so that you can take it over by hand.';
export const malformed = (why: string): Objection => ({ code: 'malformed', why, mend: afresh });
export const tooManyPieces: Objection = {
  code: 'tooLarge',
  why: `it is of more than ${maxStructsOfUpdate} pieces, which no edit is`,
  mend: afresh,
};
export const tooManyWriters: Objection = {
  code: 'tooLarge',
  why: `nobody may write to one board under more than ${maxWritersOfMember} client ids`,
  mend: 'Duplicate the board and go on there: a copy starts without its history.',
};
export const otherCopy: Objection = {
  code: 'foreignClient',
  why: 'the board has something else under the client ids and clocks that it is written with',
  mend: afresh,
};
export const pendingOn = (awaits: Refusal['awaits']): Objection => ({
  code: 'pending',
  why: 'it builds on a change that never reached the board',
  mend: afresh,
  awaits,
});

export const readOnly = (elements: readonly ElementKey[] = []): Objection => ({
  code: 'readOnly',
  why: 'you may read this board, not change it',
  mend: 'Ask a coordinator or the head coach to let you in to this board.',
  elements,
});

export function refusal(shadow: Shadow, state: 'clean' | 'dirty', objection: Objection): Refusal {
  const elements = objection.elements ?? [];
  // Words for what stood before: what was refused has no name yet.
  const names = elements.map((key) => elementWords(key, shadow.projection.board));
  const { code, why, mend, awaits = new Map() } = objection;
  return { ok: false, code, why, mend, elements, names, awaits, shadow: state };
}

export const messageOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);
