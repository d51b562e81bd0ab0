import { holdsBall } from '../clock/values.ts';
import type { Finding } from '../finding.ts';
import { mendsFor } from '../throws/mends.ts';
import type { PlannedThrow } from '../throws/planned.ts';
import { replanned } from '../throws/replanned.ts';
import { elementOf, nameOf, ofLooks, placeOf, seconds } from '../throws/words.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import type { OnThrow } from './on-throw.ts';

/** The ball is due before its man has broken, or before he can find it in the air. */
export function late({ planned, pictures, looks }: OnThrow): Finding[] {
  const { clock, due, ready, passer, order } = planned;
  const by = ready - due.to;
  if (!clock.breaks || !(by > holdsBall.value)) return [];
  const blind = clock.breaks.seconds <= due.to;
  const then = blind
    ? `shows his eyes ${seconds(clock.breaks.eyes)} after the snap`
    : `breaks ${seconds(clock.breaks.seconds)} after the snap`;
  const when = order === 0 ? '' : `, ${ordinal(order)} man of the progression`;
  const [picture] = pictures;
  const depth = depthInTime(planned);
  return [
    {
      id: findingId('late', placeOf(planned)),
      kind: 'late',
      severity: 'warn',
      elements: [elementOf(planned)],
      says: `The ball is due ${seconds(by)} too soon for ${nameOf(planned)}: he ${then}, and from a ${passer.drop.name.toLowerCase()} drop it is out by ${seconds(due.to)}${when}.${picture ? ` It is thrown against ${ofLooks(pictures, looks)}.` : ''}`,
      mend: mendWords(planned, depth),
      mends: depth === null ? [] : mendsFor(planned, { depth }),
      witness: picture
        ? {
            look: picture.look,
            reactions: picture.reactions,
            says: `the ball is due by ${seconds(due.to)}, he is ready at ${seconds(ready)}`,
          }
        : null,
    },
  ];
}

const ordinal = (order: number): string => ['first', 'second', 'third', 'fourth'][order] ?? 'last';

/** Depths are taught by the half yard. */
const step = 0.5;
/** Nobody breaks nearer to the line. Yards. */
const shallowest = 1;

/** The deepest break that the drop still waits for; null where none does. */
function depthInTime(planned: PlannedThrow): number | null {
  const { clock, due, receiver } = planned;
  const least = Math.max(shallowest, receiver.at[1] + step);
  const from = Math.floor(((clock.breaks?.at[1] ?? 0) - 1e-9) / step) * step;
  for (let depth = from; depth >= least; depth -= step) {
    if (replanned(planned, { depth }).ready <= due.to) return depth;
  }
  return null;
}

function mendWords({ ready }: PlannedThrow, depth: number | null): string {
  const longer = `have the ball out at ${seconds(ready)} with a longer drop or a hitch`;
  return depth === null
    ? `Take away what holds him up (hesitation, eyes, a roundabout stem), or ${longer}.`
    : `Break no deeper than ${yards(depth)} yd, or ${longer}.`;
}
