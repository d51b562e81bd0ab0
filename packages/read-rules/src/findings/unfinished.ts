import { eleven } from '@stemline/football/next-man';
import type { Branch, BranchId } from '../card.ts';
import type { Element, Finding, Severity } from '../finding.ts';
import { isRoute } from '../reader.ts';
import { capital } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';
import type { Malformed } from '../well-formed.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import { branchElement, cardElement, type OnCard, rowElement, rowName } from './on-card.ts';

const unfinishedOne = (
  on: readonly string[],
  element: Element,
  severity: Severity,
  says: string,
  mend: string,
): Finding => ({
  id: findingId('unfinished', on),
  kind: 'unfinished',
  severity,
  elements: [element],
  says,
  mend,
  witness: null,
});

/** What has no meaning is told where it stands; nothing more is said of the element it spoils. */
export const unreadable = ({ code, path, says, mend, element }: Malformed): Finding => ({
  id: findingId('unfinished', [code], path.join('/')),
  kind: 'unfinished',
  severity: 'stop',
  elements: [element],
  says: `${says} (${path.join('.')})`,
  mend,
  witness: null,
});

/** Fewer men than play: no foul, and no play that anybody can run. */
export const shortOfEleven = (players: RuledPlay['players']): Finding[] =>
  players.length >= eleven
    ? []
    : [
        unfinishedOne(
          ['eleven'],
          { kind: 'formation' },
          'warn',
          players.length === 1
            ? 'One man is drawn; eleven play.'
            : `${players.length} men are drawn; eleven play.`,
          'Add whoever is missing.',
        ),
      ];

/** A card whose player has left the field. */
export const withoutPlayer = (player: OnCard['card']['player']): Finding =>
  unfinishedOne(
    [player, 'player'],
    { kind: 'card', player },
    'stop',
    `There is a card for ${player}, who is not on the field.`,
    'Put him back, or remove his card.',
  );

export function unfinished(on: OnCard): Finding[] {
  const { card, who, play } = on;
  const { over } = card.head.key;
  const found: Finding[] = [];
  if (card.rows.length === 0) {
    const says = `${who}'s card has no rows.`;
    const mend = 'Add a row for the first thing he may see, or remove the card.';
    found.push(unfinishedOne([card.player, 'rows'], cardElement(card), 'stop', says, mend));
  }
  if (over !== null && !isOnField(play, over)) {
    const says = `${who}'s scan starts over ${over}, who is not on the field.`;
    const mend = 'Start the scan over a man who is.';
    found.push(unfinishedOne([card.player, 'over'], cardElement(card), 'stop', says, mend));
  }
  return [
    ...found,
    ...missingBranches(on),
    ...card.branches.flatMap((b) => unfinishedBranch(on, b)),
  ];
}

const isOnField = (play: RuledPlay, player: string): boolean =>
  play.players.some(({ id }) => id === player);

function missingBranches({ card, who }: OnCard): Finding[] {
  const known = new Set(card.branches.map(({ id }) => id));
  const heads: readonly (readonly [string, string, BranchId | null])[] = [
    ['whenInDoubt', `When in doubt ${who}`, card.head.whenInDoubt],
    ['noKey', `Without a key ${who}`, card.head.noKey],
  ];
  const mend = 'Add the branch, or lead to one that is on the card.';
  return [
    ...heads.flatMap(([name, subject, branch]) =>
      branch === null || known.has(branch)
        ? []
        : [
            unfinishedOne(
              [card.player, name],
              cardElement(card),
              'stop',
              `${subject} is led to "${branch}", which is not on the card.`,
              mend,
            ),
          ],
    ),
    ...card.rows.flatMap((row) =>
      known.has(row.branch)
        ? []
        : [
            unfinishedOne(
              [card.player, row.id, 'branch'],
              rowElement(card, row.id),
              'stop',
              `${capital(rowName(card, row.id))} of ${who}'s card leads to "${row.branch}", which is not on the card.`,
              mend,
            ),
          ],
    ),
  ];
}

function unfinishedBranch({ card, who, play }: OnCard, branch: Branch): Finding[] {
  const found: Finding[] = [];
  const element = branchElement(card, branch.id);
  const { whenInDoubt, noKey } = card.head;
  const isUsed =
    whenInDoubt === branch.id ||
    noKey === branch.id ||
    card.rows.some((row) => row.branch === branch.id);
  if (!isUsed) {
    const says = `Nothing leads ${who} to ${branch.name}.`;
    const mend = 'Lead a row to it, or remove it.';
    found.push(unfinishedOne([card.player, branch.id, 'unused'], element, 'note', says, mend));
  }
  if (branch.kind === 'target' && !isOnField(play, branch.player)) {
    const says = `${branch.name} throws to ${branch.player}, who is not on the field.`;
    const mend = 'Throw to a man who is.';
    found.push(unfinishedOne([card.player, branch.id, 'target'], element, 'stop', says, mend));
  }
  if (isRoute(branch) && branch.breakAt.from > branch.breakAt.to) {
    const { from, to } = branch.breakAt;
    const says = `${branch.name} breaks from ${yards(from)} to ${yards(to)} yd, which is no range.`;
    const mend = 'Put the lesser depth first.';
    found.push(unfinishedOne([card.player, branch.id, 'breakAt'], element, 'stop', says, mend));
  }
  return found;
}
