import { halfWidth } from '@stemline/football/field';
import type { Defender } from '@stemline/football/look';
import { insideSign } from '@stemline/football/route';
import { clamp, measured } from '../measured.ts';
import type { Side } from '../space/region.ts';
import { describeDepth } from '../words.ts';
import { afterSnap, type FactDeclaration } from './declaration.ts';
import type { Sighting } from './sighting.ts';

/** Further than this is open grass: the fact stops counting. Yards. */
const openGrass = 20;

/** Only men within this many yards in depth take room away. Common practice, no single source. */
export const levelWithHim = 5;

/** A rusher has left; everybody else level with the runner at the decision takes room. */
export function takesRoom(
  { whereAt, reactionOf, decision }: Sighting,
  defender: Defender,
): boolean {
  return (
    reactionOf(defender).move !== 'rush' &&
    Math.abs(whereAt(defender)[1] - decision.at[1]) <= levelWithHim
  );
}

function room(sighting: Sighting, toward: 'inside' | 'outside'): number {
  const { look, whereAt, decision, runner, ball } = sighting;
  const inside = insideSign(runner.at[0], ball);
  const sign = toward === 'inside' ? inside : -inside;
  const men = look.defenders
    .filter((defender) => takesRoom(sighting, defender))
    .map((defender) => sign * (whereAt(defender)[0] - decision.at[0]))
    .filter((gap) => gap >= 0);
  const sideline = toward === 'outside' ? halfWidth - sign * decision.at[0] : openGrass;
  return clamp(measured(Math.min(openGrass, sideline, ...men)), 0, openGrass);
}

const isOpen = (part: Side): boolean => part.kind === 'interval' && part.from.at === openGrass;

const roomFact = (
  name: 'roomInside' | 'roomOutside',
  side: 'inside' | 'outside',
): FactDeclaration => ({
  name,
  label: `Room ${side}`,
  help: `Yards to the nearest defender ${side} of him${side === 'outside' ? ', or to the sideline,' : ''} when he decides; rushers and men more than five yards off in depth do not count. Twenty means open grass.`,
  domain: { kind: 'continuous', min: 0, max: openGrass, whole: false },
  unit: 'yd',
  valueLabels: {},
  hangsOn: 'neighbours',
  seenBy: afterSnap(0),
  says: (part) => ({
    subject: 'he',
    says: isOpen(part) ? `has open grass ${side}` : `has ${describeDepth(part)} of room ${side}`,
  }),
  measure: (sighting) => room(sighting, side),
});

export const roomInside = roomFact('roomInside', 'inside');
export const roomOutside = roomFact('roomOutside', 'outside');
