import type { Point } from '@stemline/football/geometry';
import type { Defender, Reaction } from '@stemline/football/look';
import type { PlannedThrow } from '../throws/planned.ts';
import { seconds } from '../throws/words.ts';
import { type Lanes, lanesOf, type Under } from './undercut.ts';

/** Less than this is not worth a word. Seconds. */
const told = 0.02;
/** Everybody counts here: a margin is compared with a margin. */
const anyone = 10;

/** What a yard of the defender's alignment changes: "A yard deeper he is 0.10 s later." */
export function sensitivity(
  planned: PlannedThrow,
  { defender, reaction, seconds: was }: Under,
): string {
  const lanes = lanesOf(planned, anyone);
  const out = Math.sign(defender.at[0] - planned.passer.spot[0]) || 1;
  const said = [
    ['A yard deeper', [defender.at[0], defender.at[1] + 1]] as const,
    ['A yard wider', [defender.at[0] + out, defender.at[1]]] as const,
  ].flatMap(([where, at]) => {
    const then = shifted(lanes, defender, reaction, at);
    const change = then === null ? null : then - was;
    if (change === null || Math.abs(change) < told) return [];
    return [`${where} he is ${seconds(Math.abs(change))} ${change > 0 ? 'later' : 'sooner'}.`];
  });
  return said.length === 0 ? '' : ` ${said.join(' ')}`;
}

/** His margin from another place; null where he is no longer under it. */
const shifted = (lanes: Lanes, defender: Defender, reaction: Reaction, at: Point): number | null =>
  lanes.underAlone({ ...defender, at, reactions: [reaction] })?.seconds ?? null;
