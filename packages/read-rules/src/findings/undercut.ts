import { offHisCall, tooNearToCall } from '../clock/values.ts';
import { chosen } from '../facts/sighting.ts';
import type { Finding } from '../finding.ts';
import { mendsFor } from '../throws/mends.ts';
import type { Way } from '../throws/ways.ts';
import { elementOf, seconds as inSeconds, nameOf, ofLooks, placeOf } from '../throws/words.ts';
import { safeBreak } from '../undercut/safe-break.ts';
import { sensitivity } from '../undercut/sensitivity.ts';
import { type Lanes, lanesOf, type Under } from '../undercut/undercut.ts';
import { findingId } from './finding-id.ts';
import type { OnThrow } from './on-throw.ts';

interface Cut {
  readonly picture: Way;
  readonly under: Under;
}

/** A defender can have a hand on the ball before it has passed, in a picture in which it is thrown. */
export function undercut({ planned, pictures, looks }: OnThrow): Finding[] {
  if (pictures.length === 0) return [];
  const cuts = cutsOf(lanesOf(planned, -tooNearToCall.value), pictures);
  const called = cuts.filter(({ picture }) => picture.called);
  const [worst] = [...(called.length > 0 ? called : cuts)].sort(
    (a, b) => a.under.seconds - b.under.seconds,
  );
  if (!worst || (called.length === 0 && isRare(cuts, looks))) return [];
  const { picture, under } = worst;
  const who = `${under.defender.label} in "${picture.look.name}"`;
  const seen = (some: readonly Cut[]): string =>
    ofLooks(
      some.map((cut) => cut.picture),
      looks,
    );
  const against =
    called.length > 0
      ? `It shows against ${seen(called)} as called.`
      : `As called nobody is; if ${otherwise(picture, under)}, it shows against ${seen(cuts)}.`;
  const tried = [
    picture,
    ...cuts.map((cut) => cut.picture),
    ...pictures.filter((one) => one.called),
  ];
  const safe = safeBreak(planned, [...new Set(tried)]);
  return [
    {
      id: findingId('undercut', placeOf(planned)),
      kind: 'undercut',
      severity: called.length > 0 ? 'warn' : 'note',
      elements: [elementOf(planned)],
      says: `${nameOf(planned)} can be undercut: ${who} is under the ball ${under.at[1].toFixed(1)} yd deep, ${inSeconds(-under.seconds)} before it gets there. ${against}${sensitivity(planned, under)}`,
      mend: safe.says,
      mends: safe.change ? mendsFor(planned, safe.change) : [],
      witness: {
        look: picture.look,
        reactions: picture.reactions,
        says: `the ball is out at ${inSeconds(planned.out)}; ${under.defender.label}, who ${under.reaction.says}, has a hand there ${inSeconds(-under.seconds)} before it`,
      },
    },
  ];
}

/** "he sits where he stands", or what the key does instead where somebody else is then under it. */
function otherwise({ look, reactions }: Way, { defender }: Under): string {
  const other = look.defenders.find(({ id }) => reactions[id] !== undefined);
  if (!other) return 'he does';
  const { says } = chosen(other, reactions);
  return other === defender ? `he ${says}` : `${other.label} ${says}`;
}

function cutsOf(lanes: Lanes, pictures: readonly Way[]): Cut[] {
  return pictures.flatMap((picture) => {
    const under = lanes.under(picture);
    if (!under || (!picture.called && !isTold(under))) return [];
    return [{ picture, under }];
  });
}

/** Off the call a lineman who peels or drops is a hand in the lane, no plan to get under the throw. */
const isTold = ({ seconds, defender }: Under): boolean =>
  seconds <= -offHisCall.value && defender.level !== 'line';

/** Off the call it takes this share of the shelf to be told: one look in ten. Ours. */
const rare = 0.1;

const isRare = (cuts: readonly Cut[], looks: number): boolean =>
  new Set(cuts.map(({ picture }) => picture.look.id)).size < rare * looks;
