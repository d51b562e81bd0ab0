import { ballX, halfWidth } from '@stemline/football/field';
import type { Point } from '@stemline/football/geometry';
import type { Situation, Spot } from '@stemline/football/play';
import { footDown } from '../clock/values.ts';
import type { Finding } from '../finding.ts';
import type { PlannedThrow } from '../throws/planned.ts';
import { elementOf, nameOf, ofLooks, placeOf } from '../throws/words.ts';
import { yards } from '../words.ts';
import { findingId } from './finding-id.ts';
import type { OnThrow } from './on-throw.ts';

/** Depth of the end zone, yards: all three codes. */
const endZone = 10;
/** Whoever would line up nearer to the sideline than this from another hash is moved in by his coach. */
const splitsIn = 4;

interface Over {
  readonly line: 'sideline' | 'end line';
  /** Yards past where he must catch it. */
  readonly by: number;
}

function over({ toGoal }: Situation, [x, y]: Point): Over | null {
  const across = Math.abs(x) - (halfWidth - footDown.value);
  const deep = y - (toGoal + endZone - footDown.value);
  if (across <= 0 && deep <= 0) return null;
  return across >= deep ? { line: 'sideline', by: across } : { line: 'end line', by: deep };
}

/** A throw that is caught out of bounds where the ball lies now; from another hash, as a note. */
export function outOfRoom({ planned, pictures, looks }: OnThrow): Finding[] {
  const { situation } = planned.alone;
  const ball = planned.balls.usual;
  if (!ball) return [];
  const out = over(situation, ball.to);
  const hashes = otherHashes(situation, planned, ball.to);
  const [picture] = pictures;
  const head = {
    id: findingId('outOfRoom', placeOf(planned)),
    kind: 'outOfRoom',
    elements: [elementOf(planned)],
  } as const;
  const witness = picture
    ? { look: picture.look, reactions: picture.reactions, says: whereCaught(ball.to) }
    : null;
  if (out) {
    const too = hashes.length > 0 ? ` The same from the ${hashes.join(' and the ')} hash.` : '';
    const shown = picture ? ` It is thrown against ${ofLooks(pictures, looks)}.` : '';
    return [
      {
        ...head,
        severity: 'warn',
        says: `${nameOf(planned)} runs out of room: he would catch the ball ${yards(out.by)} yd too near the ${out.line}, or past it.${shown}${too}`,
        mend:
          out.line === 'sideline'
            ? `Give him ${yards(roundUp(out.by))} yd more room: a tighter split, a flatter run or an earlier ball.`
            : `Break ${yards(roundUp(out.by))} yd shallower, or across instead of deep.`,
        witness,
      },
    ];
  }
  if (hashes.length === 0) return [];
  return [
    {
      ...head,
      severity: 'note',
      says: `From the ${hashes.join(' or the ')} hash ${nameOf(planned)} runs out of room at the sideline, if he keeps his split.`,
      mend: 'Say what he does into the short side: a tighter split, or another way to finish.',
      witness: null,
    },
  ];
}

const roundUp = (n: number): number => Math.ceil(n * 2) / 2;

const whereCaught = ([x, y]: Point): string =>
  `he catches the ball ${yards(Math.abs(x))} yd from the middle of the field, ${yards(Math.max(0, y))} yd deep`;

/** The spots of the ball from which the same throw, with the same splits, is caught past the sideline. */
function otherHashes(situation: Situation, { receiver }: PlannedThrow, to: Point): Spot[] {
  const here = ballX(situation);
  return (['left', 'right'] as const).filter((spot) => {
    const shift = ballX({ ...situation, spot }) - here;
    return (
      spot !== situation.spot &&
      Math.abs(receiver.at[0] + shift) <= halfWidth - splitsIn &&
      Math.abs(to[0] + shift) > halfWidth
    );
  });
}
