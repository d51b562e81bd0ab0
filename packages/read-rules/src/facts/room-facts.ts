import { halfWidth } from '@stemline/football/field';
import type { Point } from '@stemline/football/geometry';
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
export function takesRoom(sighting: Sighting, defender: Defender): boolean {
  return (
    sighting.reactionOf(defender).move !== 'rush' && isLevel(sighting, sighting.whereAt(defender))
  );
}

const isLevel = ({ decision }: Sighting, at: Point): boolean =>
  Math.abs(at[1] - decision.at[1]) <= levelWithHim;

/** One pass, as this is asked of every look and reaction. */
function room(sighting: Sighting, toward: 'inside' | 'outside'): number {
  const { look, decision, runner, ball } = sighting;
  const inside = insideSign(runner.at[0], ball);
  const sign = toward === 'inside' ? inside : -inside;
  const sideline = toward === 'outside' ? halfWidth - sign * decision.at[0] : openGrass;
  let least = Math.min(openGrass, sideline);
  for (let man = 0; man < look.defenders.length; man++) {
    if (sighting.doing(man).move === 'rush') continue;
    const at = sighting.place(man);
    const gap = sign * (at[0] - decision.at[0]);
    if (gap >= 0 && gap < least && isLevel(sighting, at)) least = gap;
  }
  return clamp(measured(least), 0, openGrass);
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
