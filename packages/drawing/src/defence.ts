import { distance, type Point } from '@stemline/football/geometry';
import type { Defender, Reaction, ReactionChoice } from '@stemline/football/look';
import type { Primitive } from './scene.ts';
import { arrowHead, straight, trimStart } from './stroke.ts';

/** The reaction a choice names for him, or the first of his own. */
export function chosenReaction(defender: Defender, choice: ReactionChoice): Reaction | undefined {
  const id = choice[defender.id];
  return defender.reactions.find((reaction) => reaction.id === id) ?? defender.reactions[0];
}

/** Defenders are letters, the key ringed (letters: common practice, no single source). */
export function defenderMark(defender: Defender, isKey: boolean): Primitive[] {
  const { at, label } = defender;
  const size = label.length > 2 ? 0.84 : label.length > 1 ? 1.02 : 1.3;
  const letters: Primitive = {
    kind: 'text',
    at,
    text: label,
    size,
    turn: 0,
    anchor: 'middle',
    role: isKey ? 'keyLetter' : 'defender',
  };
  if (!isKey) return [letters];
  return [
    { kind: 'circle', at, radius: 1.1, role: 'keyMark' },
    letters,
    {
      kind: 'text',
      at: [at[0] + 1.45, at[1] + 0.95],
      text: 'key',
      size: 0.86,
      turn: 0,
      anchor: 'start',
      role: 'keyLabel',
    },
  ];
}

/** An arrow to where he is going; nothing when he stays. */
export function reactionLine(defender: Defender, to: Point, isKey: boolean): Primitive[] {
  if (distance(defender.at, to) < 0.8) return [];
  const points = trimStart([defender.at, to], isKey ? 1.1 : 0.85);
  if (points.length < 2) return [];
  return [
    ...straight(points, isKey ? 'keyReaction' : 'reaction'),
    ...arrowHead(points, isKey ? 0.75 : 0.55, isKey ? 'keyReactionEnd' : 'reactionEnd'),
  ];
}
