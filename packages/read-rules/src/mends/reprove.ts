import type { Finding } from '../finding.ts';
import type { Recheck } from '../recheck/recheck.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { applyMend } from './apply.ts';
import type { Mend } from './mend.ts';

/** Mends tried for one play; what comes after them is not offered. */
const mostTried = 24;

/**
 * The findings of a play with only those mends that were made, checked again, and held: the finding
 * is gone, and nothing stops the play that did not before. `recheck` is left knowing the play itself.
 */
export function reproved(
  play: RuledPlay,
  findings: readonly Finding[],
  recheck: Recheck,
): readonly Finding[] {
  const stops = findings.filter(({ severity }) => severity === 'stop');
  let tried = 0;
  const holds = (finding: Finding, mend: Mend): boolean => {
    if (tried >= mostTried) return false;
    tried += 1;
    const after = recheck.check(applyMend(play, mend));
    return (
      after.every(({ id }) => id !== finding.id) &&
      after.filter(({ severity }) => severity === 'stop').every((stop) => isLeft(stop, stops))
    );
  };
  const kept = findings.map((finding) =>
    finding.mends
      ? { ...finding, mends: finding.mends.filter((mend) => holds(finding, mend)) }
      : finding,
  );
  if (tried > 0) recheck.check(play);
  return kept;
}

/**
 * It was there before, or it is what is left of a gap or clash on the same card: its region is
 * another, and so its id.
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
