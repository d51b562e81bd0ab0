import { legality } from '@stemline/football/legality';
import type { Element, Finding } from '../finding.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { findingId } from './finding-id.ts';

/** A foul stops the play; a rule that only takes a receiver away is a warning. */
export function illegalFormation(play: RuledPlay): Finding[] {
  return legality(play).map(({ rule, weight, says, players, source }) => ({
    id: findingId('illegalFormation', [rule], players.join()),
    kind: 'illegalFormation',
    severity: weight === 'foul' ? 'stop' : 'warn',
    elements:
      players.length > 0
        ? players.map((player): Element => ({ kind: 'player', player }))
        : [{ kind: 'formation' }],
    says: `${says} (${source})`,
    mend:
      weight === 'foul'
        ? 'Move or renumber the players named until the formation is legal under this rule code.'
        : 'Move the player named, or do not count on him for a pass.',
    witness: null,
  }));
}
