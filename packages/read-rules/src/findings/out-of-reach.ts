import type { Finding } from '../finding.ts';
import { beyondArm } from '../throws/ball.ts';
import { elementOf, nameOf, ofLooks, placeOf, seconds } from '../throws/words.ts';
import { findingId } from './finding-id.ts';
import type { OnThrow } from './on-throw.ts';

/** By the time the ball can go he is further away than the arm throws. */
export function outOfReach({ planned, pictures, looks }: OnThrow): Finding[] {
  const { balls, clock, passer, out } = planned;
  if (balls.usual) return [];
  const beyond = beyondArm(planned.alone.situation.code, clock.path, passer.spot, out);
  if (!beyond) return [];
  const { away, farthest } = beyond;
  const [picture] = pictures;
  const shown = picture ? ` It is thrown against ${ofLooks(pictures, looks)}.` : '';
  const says = `out at ${seconds(out)}, a strong arm throws it ${Math.round(farthest)} yd, and he would be ${Math.round(away)} yd away`;
  return [
    {
      id: findingId('outOfReach', placeOf(planned)),
      kind: 'outOfReach',
      severity: 'warn',
      elements: [elementOf(planned)],
      says: `The arm does not reach ${nameOf(planned)}: ${says}.${shown}`,
      mend: 'Have the ball out sooner, or have him wait for it: a shorter drop, an earlier place in the progression or a nearer landmark.',
      witness: picture ? { look: picture.look, reactions: picture.reactions, says } : null,
    },
  ];
}
