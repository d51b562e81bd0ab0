import type { Point } from '@stemline/football/geometry';
import { type DefenderId, reactionIdSchema } from '@stemline/football/ids';
import type {
  AlignedLook,
  Defender,
  Level,
  LookTraits,
  Move,
  Reaction,
  ReactionChoice,
} from '@stemline/football/look';
import { insideSign } from '@stemline/football/route';
import type { Side } from '../space/region.ts';
import type { Sighting } from './sighting.ts';

/** A defence on the way to becoming a witness. */
export interface Draft {
  readonly look: AlignedLook;
  readonly reactions: ReactionChoice;
}

/** Ways to change a defence so that a fact comes to lie in a side, or nearer to it. */
export type Bring = (sighting: Sighting, draft: Draft, side: Side) => readonly Draft[];

const samePoint = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];

function withDefender(draft: Draft, changed: Defender): Draft {
  const defenders = draft.look.defenders.map((one) => (one.id === changed.id ? changed : one));
  return { ...draft, look: { ...draft.look, defenders } };
}

/** Stands him somewhere else; a reaction that keeps him where he stands goes with him. */
export function standing(draft: Draft, defender: Defender, at: Point): Draft {
  const reactions = defender.reactions.map((reaction) =>
    samePoint(reaction.to, defender.at) ? { ...reaction, to: at } : reaction,
  );
  return withDefender(draft, { ...defender, at, reactions });
}

/** Has him live at another level, and the look say what it then shows. */
export function atLevel(draft: Draft, defender: Defender, level: Level, at: Point): Draft {
  const placed = standing(draft, defender, at);
  const man = placed.look.defenders.find(({ id }) => id === defender.id);
  return man ? withDefender(placed, { ...man, level }) : placed;
}

export const showing = (draft: Draft, traits: Partial<LookTraits>): Draft => ({
  ...draft,
  look: { ...draft.look, traits: { ...draft.look.traits, ...traits } },
});

export const choosing = (draft: Draft, id: DefenderId, reaction: Reaction): Draft => ({
  ...draft,
  reactions: { ...draft.reactions, [id]: reaction.id },
});

/** Has him make a move to a spot; as one of his reactions, which it is given if he had none like it. */
export function moving(draft: Draft, defender: Defender, move: Move, to: Point): Draft {
  const made: Reaction = {
    id: reactionIdSchema.parse(`made-${move}`),
    move,
    says: saying[move],
    to,
  };
  const kept = defender.reactions.filter(({ id }) => id !== made.id);
  return choosing(
    withDefender(draft, { ...defender, reactions: [...kept, made] }),
    defender.id,
    made,
  );
}

const saying: Readonly<Record<Move, string>> = {
  rush: 'rushes the passer',
  drop: 'drops',
  wall: 'walls the receiver from the inside',
  widen: 'widens',
  man: 'takes his man',
  sit: 'sits',
};

/** Where a defender goes by a move, when nothing else says. */
export function usualWay(
  { rushTo, runner, decision, ball }: Sighting,
  { at }: Defender,
  move: Move,
): Point {
  const inside = insideSign(runner.at[0], ball);
  switch (move) {
    case 'rush':
      return rushTo;
    case 'drop':
      return [at[0], at[1] + 6];
    case 'wall':
      return [decision.at[0] + inside, Math.max(at[1], decision.at[1] + 1)];
    case 'widen':
      return [at[0] - 4 * inside, at[1]];
    case 'man':
      return runner.at;
    case 'sit':
      return at;
  }
}
