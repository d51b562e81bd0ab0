import type { BoardLine } from '@stemline/protocol/api/boards';

export const shows = ['all', 'sentUp', 'findings', 'neverSigned'] as const;
export type Show = (typeof shows)[number];

export const showWords: Record<Show, string> = {
  all: 'All plays',
  sentUp: 'Waiting for sign-off',
  findings: 'With open findings',
  neverSigned: 'Never signed off',
};

const shown: Record<Show, (line: BoardLine) => boolean> = {
  all: () => true,
  sentUp: (line) => line.sentUp,
  findings: (line) =>
    line.openFindings !== null && line.openFindings.stop + line.openFindings.warn > 0,
  neverSigned: (line) => line.signedVersion === null,
};

export const orders = ['updated', 'name', 'concept', 'formation'] as const;
export type Order = (typeof orders)[number];

const compare: Record<Order, (a: BoardLine, b: BoardLine) => number> = {
  updated: (a, b) => b.updatedAt.localeCompare(a.updatedAt),
  name: (a, b) => words(a.name, b.name),
  concept: (a, b) => words(a.concept, b.concept) || words(a.name, b.name),
  formation: (a, b) => words(a.formation, b.formation) || words(a.name, b.name),
};

/** The lines to show: those that hold every word of the search, in the order asked for. */
export function bookLines(
  lines: readonly BoardLine[],
  asked: { search: string; show: Show; order: Order },
): readonly BoardLine[] {
  const sought = asked.search.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  return lines
    .filter(shown[asked.show])
    .filter((line) => {
      const text = `${line.name} ${line.concept} ${line.formation}`.toLocaleLowerCase();
      return sought.every((word) => text.includes(word));
    })
    .toSorted(compare[asked.order]);
}

const words = (a: string, b: string): number =>
  a.localeCompare(b, undefined, { numeric: true, sensitivity: 'base' });
