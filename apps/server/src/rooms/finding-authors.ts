import type { BoardPlay } from '@stemline/board/board-play';
import { type ElementKey, elementKeysOf } from '@stemline/board/element-key';
import { elementWords } from '@stemline/board/words';
import type { LiveFinding } from '@stemline/protocol/message';
import type { Element, Finding } from '@stemline/read-rules/finding';
import type { Author } from './store.ts';

/** What an element of a finding is called. */
function wordsOf(element: Element, board: BoardPlay): string {
  if (element.kind === 'formation') return 'the formation';
  const [key] = elementKeysOf(element);
  return key ? elementWords(key, board) : '';
}

/**
 * Who last set what a finding is about: for each element everybody who set one of its values last,
 * the latest first. `maker` stands for whatever nobody has set since the board was made (R61).
 */
export function authorsOf(
  finding: Finding,
  board: BoardPlay,
  authors: ReadonlyMap<ElementKey, Author>,
  maker: Author,
): LiveFinding['authors'] {
  const players = board.play.players.map(({ id }) => id);
  return finding.elements.flatMap((element) => {
    const latest = new Map<string, Author>();
    for (const key of elementKeysOf(element, players)) {
      const author = authors.get(key) ?? maker;
      const known = latest.get(author.name);
      if (!known || known.at < author.at) latest.set(author.name, author);
    }
    // Somebody has set a part of it: the maker of the rest is no news.
    const set =
      latest.size > 1
        ? [...latest.values()].filter((author) => author !== maker)
        : [...latest.values()];
    return set
      .sort((a, b) => b.at.getTime() - a.at.getTime())
      .map(({ name, at }) => ({
        element,
        what: wordsOf(element, board),
        name,
        at: at.toISOString(),
      }));
  });
}
