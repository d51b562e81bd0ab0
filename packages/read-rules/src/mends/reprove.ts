import type { Finding, FindingKind } from '../finding.ts';
import type { Recheck } from '../recheck/recheck.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { applyMend } from './apply.ts';
import type { Mend } from './mend.ts';

/** Mends tried for one play; what comes after them is not offered. */
const mostTried = 24;

/**
 * The findings of a play with only those mends that were made, checked again, and held: the finding
 * is gone, nothing stops the play that did not before, fewer things stop it where the finding did, and
 * no warning about how a card is written is new. `recheck` has checked the play last.
 */
export function reproved(
  play: RuledPlay,
  findings: readonly Finding[],
  recheck: Recheck,
): readonly Finding[] {
  const stops = findings.filter(isStop);
  let tried = 0;
  const holds = (finding: Finding, mend: Mend): boolean => {
    if (tried >= mostTried) return false;
    tried += 1;
    const after = recheck.tried(applyMend(play, mend), new Set([...mayStop, finding.kind]));
    const left = after.filter(isStop);
    return (
      after.every(({ id }) => id !== finding.id) &&
      left.every((stop) => isLeft(stop, stops)) &&
      left.length <= stops.length - (isStop(finding) ? 1 : 0) &&
      after.filter(isOfWriting).every((one) => wasTold(one, findings))
    );
  };
  return findings.map((finding) =>
    finding.mends
      ? { ...finding, mends: finding.mends.filter((mend) => holds(finding, mend)) }
      : finding,
  );
}

/** What is asked of the play as a whole and may stop it; what cards are asked is asked again in any case. */
const mayStop: readonly FindingKind[] = ['illegalFormation', 'offThePage'];

const isStop = ({ severity }: Finding): boolean => severity === 'stop';

/**
 * A warning about how a card is written. Others come of what is then thrown: a card that answers where
 * it did not may answer with a throw that somebody gets under.
 */
const isOfWriting = ({ kind, severity }: Finding): boolean =>
  severity === 'warn' && ofWriting.includes(kind);
const ofWriting: readonly FindingKind[] = [
  'neverUsed',
  'lateDecision',
  'unseen',
  'noDefault',
  'unfinished',
  'twoKeys',
  'noKey',
];

/** The same was said before, or worse of the same thing. */
const wasTold = ({ id, kind, elements: [first] }: Finding, before: readonly Finding[]): boolean =>
  before.some(
    (one) =>
      one.id === id ||
      (one.kind === kind && JSON.stringify(one.elements[0]) === JSON.stringify(first)),
  );

/**
 * It was there before, or it is what is left of a gap or clash on the same card: its region is
 * another, and so its id. A mend changes no answer outside of the finding, so nothing else can be new.
 */
function isLeft(stop: Finding, before: readonly Finding[]): boolean {
  if (before.some(({ id }) => id === stop.id)) return true;
  const isProved = stop.kind === 'gap' || stop.kind === 'clash';
  return (
    isProved && before.some(({ kind, elements }) => kind === stop.kind && shares(elements, stop))
  );
}

const shares = (elements: Finding['elements'], stop: Finding): boolean =>
  elements.some(
    (one) =>
      'player' in one && stop.elements.some((two) => 'player' in two && two.player === one.player),
  );
