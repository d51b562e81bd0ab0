import { legality } from '@stemline/football/legality';
import { eligibleReceivers, snapFormation } from '@stemline/football/legality/line';
import type { Element, Finding } from '../finding.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { findingId } from './finding-id.ts';

/** A foul stops the play; a rule that only takes a receiver away is a warning, unless he is thrown to. */
export function illegalFormation(play: RuledPlay): Finding[] {
  const told = legality(play).map(
    ({ rule, weight, says, players, of, source }): Finding => ({
      id: findingId('illegalFormation', [rule], players.join()),
      kind: 'illegalFormation',
      severity: weight === 'foul' ? 'stop' : 'warn',
      elements:
        players.length > 0
          ? players.map((player): Element => ({ kind: of ?? 'player', player }))
          : [{ kind: 'formation' }],
      says: `${says} (${source})`,
      mend: mends[rule] ?? (weight === 'foul' ? move : spare),
      witness: null,
    }),
  );
  return [...told, ...thrownTo(play)];
}

const move =
  'Move or renumber the players named until the formation is legal under this rule code.';
const spare = 'Move the player named, or do not count on him for a pass.';

const mends: Readonly<Record<string, string>> = {
  noSnapper: 'Put a center over the ball.',
  sameNumber: 'Give one of them another number.',
  positionNumber: 'Give him a number of his position.',
  motionCount: 'Have all but one of them set for a second before the snap.',
  motionToward: 'Have him go along the line or away from it, or set for a second before the snap.',
  motionFromLine: 'Start him as a back, or have him set as one for a second before he goes.',
  motionOnLine: 'Have him set for a second before the snap, or stay a yard behind the line.',
  routeOutOfBounds: 'Keep his way inside the sideline, or do not count on him for a pass after it.',
  ineligibleDownfield: 'Keep him back until the ball is out, or have it out sooner.',
};

/** The passer's card throws to somebody who may not catch a forward pass. */
function thrownTo(play: RuledPlay): Finding[] {
  const eligible = new Set(eligibleReceivers(play).map(({ id }) => id));
  const { book } = snapFormation(play);
  return play.cards.flatMap((card) => {
    const targets = new Set(
      card.branches.flatMap((branch) => (branch.kind === 'target' ? [branch.player] : [])),
    );
    return play.players
      .filter(({ id }) => targets.has(id) && !eligible.has(id))
      .map(
        ({ id, label }): Finding => ({
          id: findingId('illegalFormation', ['target', card.player, id]),
          kind: 'illegalFormation',
          severity: 'stop',
          elements: [
            { kind: 'card', player: card.player },
            { kind: 'player', player: id },
          ],
          says: `The ball is thrown to ${label}, who may not catch a forward pass where he lines up or in the number he wears. (${book.eligibleByPosition.source})`,
          mend: `Throw to somebody who may, or make ${label} an end of the line or a back in a receiver's number.`,
          witness: null,
        }),
      );
  });
}
