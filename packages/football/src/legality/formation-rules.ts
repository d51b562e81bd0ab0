import { halfWidth } from '../field.ts';
import { distance } from '../geometry.ts';
import { isLineman, type Player } from '../play.ts';
import type { Illegality } from './illegality.ts';
import { hasEligibleNumber, type SnapFormation } from './line.ts';

/** Two men nearer than this are drawn in one place. Yards. */
const onePlace = 0.5;

type Rule = (formation: SnapFormation) => readonly Illegality[];

const ids = (players: readonly Player[]) => players.map(({ id }) => id);
const names = (players: readonly Player[]): string => players.map(({ label }) => label).join(', ');
const foul = (
  rule: string,
  says: string,
  players: readonly Player[],
  source: string,
): Illegality => ({
  rule,
  weight: 'foul',
  says,
  players: ids(players),
  source,
});

const backs: Rule = ({ book: { maxBacks }, backs }) =>
  maxBacks && backs.length > maxBacks.count
    ? [
        foul(
          'backs',
          `${backs.length} men are off the line (${names(backs)}); no more than ${maxBacks.count} may be.`,
          backs,
          maxBacks.source,
        ),
      ]
    : [];

/** Where nobody snaps, the man who is missing is not missed again. */
const onLine: Rule = ({ book: { minOnLine }, onLine, snapper }) =>
  snapper && minOnLine && onLine.length < minOnLine.count
    ? [
        foul(
          'onLine',
          `${onLine.length} men are on the line; ${minOnLine.count} must be.`,
          onLine,
          minOnLine.source,
        ),
      ]
    : [];

const lineNumbers: Rule = ({ book: { minLineNumbers }, onLine, snapper }) => {
  const numbered = onLine.filter(({ number }) => number >= 50 && number <= 79);
  return snapper && minLineNumbers && numbered.length < minLineNumbers.count
    ? [
        foul(
          'lineNumbers',
          `${numbered.length} men on the line wear 50 to 79; ${minLineNumbers.count} must.`,
          onLine,
          minLineNumbers.source,
        ),
      ]
    : [];
};

const nobodysLand: Rule = ({ book, neither }) =>
  neither.map((player) =>
    foul(
      'nobodysLand',
      `${player.label} is neither on the line nor a back: up to the line, or a yard behind it.`,
      [player],
      book.lineOrBack.source,
    ),
  );

const overLine: Rule = ({ book, players }) =>
  players
    .filter(({ at }) => at[1] > 0)
    .map((player) =>
      foul('overLine', `${player.label} is over the line.`, [player], book.behindLine.source),
    );

const outOfBounds: Rule = ({ book, players }) =>
  players
    .filter(({ at }) => Math.abs(at[0]) > halfWidth)
    .map((player) =>
      foul(
        'outOfBounds',
        `${player.label} is out of bounds at the snap.`,
        [player],
        book.inBounds.source,
      ),
    );

const noSnapper: Rule = ({ book, players, snapper }) =>
  snapper
    ? []
    : [
        foul(
          'noSnapper',
          'Nobody snaps the ball: no center is drawn.',
          players,
          book.snapper.source,
        ),
      ];

const covered: Rule = ({ book, onLine }) =>
  onLine
    .slice(1, -1)
    .filter((player) => !isLineman(player.position) && hasEligibleNumber(book, player))
    .map((player) => ({
      ...foul(
        'covered',
        `${player.label} is covered: he is on the line with a man outside him, so he may not catch a forward pass.`,
        [player],
        book.eligibleByPosition.source,
      ),
      weight: 'caution',
    }));

const ineligibleNumber: Rule = ({ book, players }) =>
  players
    .filter((player) => !isLineman(player.position) && !hasEligibleNumber(book, player))
    .map((player) => ({
      ...foul(
        'ineligibleNumber',
        `${player.label} wears ${player.number}, so he may not catch a forward pass.`,
        [player],
        book.ineligibleNumbers.source,
      ),
      weight: 'caution',
    }));

/** Who wears a number that no receiver may wear is told as that. */
const positionNumber: Rule = ({ book, players }) => {
  const { positionNumbers } = book;
  if (!positionNumbers) return [];
  return players
    .filter((player) => isLineman(player.position) || hasEligibleNumber(book, player))
    .flatMap((player): Illegality[] => {
      const ranges = positionNumbers.ranges[player.position];
      if (!ranges || ranges.some(([from, to]) => player.number >= from && player.number <= to))
        return [];
      const worn = ranges.map(([from, to]) => `${from} to ${to}`).join(' or ');
      const says = `${player.label} wears ${player.number}; a man of his position wears ${worn}.`;
      return [
        { ...foul('positionNumber', says, [player], positionNumbers.source), weight: 'caution' },
      ];
    });
};

const sameNumber: Rule = ({ book, players }) =>
  pairs(players)
    .filter(([a, b]) => a.number === b.number)
    .map(([a, b]) =>
      foul(
        'sameNumber',
        `${a.label} and ${b.label} both wear ${a.number}.`,
        [a, b],
        book.sameNumber.source,
      ),
    );

const samePlace: Rule = ({ players }) =>
  pairs(players)
    .filter(([a, b]) => distance(a.at, b.at) < onePlace)
    .map(([a, b]) =>
      foul(
        'samePlace',
        `${a.label} and ${b.label} stand in one place.`,
        [a, b],
        'of the drawing, not of a rule book',
      ),
    );

const pairs = (players: readonly Player[]): (readonly [Player, Player])[] =>
  players.flatMap((a, i) => players.slice(i + 1).map((b) => [a, b] as const));

export const formationRules: readonly Rule[] = [
  noSnapper,
  onLine,
  backs,
  lineNumbers,
  nobodysLand,
  overLine,
  outOfBounds,
  covered,
  ineligibleNumber,
  positionNumber,
  sameNumber,
  samePlace,
];
