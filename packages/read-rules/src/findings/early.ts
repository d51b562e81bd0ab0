import { waitsFor } from '../clock/values.ts';
import type { Finding } from '../finding.ts';
import { elementOf, nameOf, placeOf, seconds } from '../throws/words.ts';
import { findingId } from './finding-id.ts';
import type { OnThrow } from './on-throw.ts';

/**
 * The first man of the progression has broken, settles and waits for the ball longer than the defence
 * needs to close on him. Later men wait for their turn, and whoever runs on is still on his way.
 */
export function early({ planned, pictures }: OnThrow): Finding[] {
  const { clock, out, order, passer } = planned;
  if (order > 0 || !clock.breaks || !clock.settles) return [];
  const broke = clock.breaks.seconds;
  const waits = out - broke;
  if (!(waits > waitsFor.value)) return [];
  const [picture] = pictures;
  return [
    {
      id: findingId('early', placeOf(planned)),
      kind: 'early',
      severity: 'note',
      elements: [elementOf(planned)],
      says: `${nameOf(planned)} breaks ${seconds(broke)} after the snap and settles, and from a ${passer.drop.name.toLowerCase()} drop the ball is not out before ${seconds(out)}: he waits for ${seconds(waits)}.`,
      mend: 'Break deeper, or take a shorter drop.',
      witness: picture
        ? {
            look: picture.look,
            reactions: picture.reactions,
            says: `he waits from ${seconds(broke)} to ${seconds(out)}`,
          }
        : null,
    },
  ];
}
