import type { When } from '@stemline/football/looks/recipe';

const everyone = 11;

/** Formations that a look most often answers differently; what the editor offers. */
export const commonWhens: readonly { id: string; when: When }[] = [
  { id: 'always', when: {} },
  { id: 'strong3', when: { strong: { from: 3, to: everyone } } },
  { id: 'strong2', when: { strong: { from: 0, to: 2 } } },
  { id: 'weak1', when: { weak: { from: 0, to: 1 } } },
  { id: 'weak2', when: { weak: { from: 2, to: everyone } } },
  { id: 'empty', when: { backs: { from: 0, to: 0 } } },
  { id: 'strongTightEnd', when: { tightEnd: 'strong' } },
  { id: 'weakTightEnd', when: { tightEnd: 'weak' } },
  { id: 'strongReduced', when: { reduced: 'strong' } },
  { id: 'weakReduced', when: { reduced: 'weak' } },
];

/** "3 or more receivers strong and a tight end weak". */
export function whenWords(when: When): string {
  const parts = [
    count(when.strong, 'receiver', 'strong'),
    count(when.weak, 'receiver', 'weak'),
    count(when.backs, 'back', 'beside the passer'),
    when.tightEnd === undefined ? null : `a tight end ${when.tightEnd}`,
    when.reduced === undefined ? null : `#1 ${when.reduced} split in tight`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? 'Always' : `Against ${parts.join(' and ')}`;
}

function count(
  range: { from: number; to: number } | undefined,
  noun: string,
  where: string,
): string | null {
  if (range === undefined) return null;
  const { from, to } = range;
  const plural = (n: number): string => (n === 1 ? noun : `${noun}s`);
  if (to === 0) return `no ${noun} ${where}`;
  if (from === to) return `${from} ${plural(from)} ${where}`;
  if (to >= everyone) return `${from} or more ${noun}s ${where}`;
  if (from === 0) return `at most ${to} ${plural(to)} ${where}`;
  return `${from} to ${to} ${noun}s ${where}`;
}

export const sameWhen = (a: When, b: When): boolean => whenWords(a) === whenWords(b);
