import type { Blocks } from '@stemline/drawing/blocking';
import { isLineman } from '@stemline/football/play';
import { passerOf } from '@stemline/read-rules/clock/passer-clock';
import { arrival } from '@stemline/read-rules/protection/arrival';
import { isPass } from '@stemline/read-rules/protection/blockers';
import { type Protecting, protectingOf } from '@stemline/read-rules/protection/protect';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { Standing } from '../looks/standing.ts';

const known = new WeakMap<RuledPlay, Protecting | null>();

/** A play's protection, worked out once however many parts of the page ask for it. */
export function protectionOn(play: RuledPlay): Protecting | null {
  const before = known.get(play);
  if (before !== undefined) return before;
  const now = protectingOf(play);
  known.set(play, now);
  return now;
}

/** Why nothing can be said about who blocks whom, and what to do about it. */
export function whyNoProtection(play: RuledPlay): string {
  const linemen = play.players.filter(({ position }) => isLineman(position)).length;
  if (linemen !== 5)
    return `There are ${linemen} linemen on the board. With five it can be told who blocks whom.`;
  if (!passerOf(play))
    return 'Nobody stands behind the ball to take the snap. Put the passer there, and it can be told who blocks for him.';
  if (!isPass(play))
    return 'Nobody has anywhere to go yet. Draw routes for two men, and it can be told who blocks for the passer.';
  return 'Nobody whom the passer may throw to has a way to go. Draw him a route.';
}

/** What the board draws of it; without a look, only where the passer throws from. */
export function blocksOf(play: RuledPlay, standing: Standing | null): Blocks | null {
  const protecting = protectionOn(play);
  if (!protecting) return null;
  const { player, spot, drop } = protecting.answers.passer;
  const { line, helpers } = protecting.blocking;
  const inLine = [...line, ...helpers.filter(({ onLine }) => onLine).map((man) => man.player)];
  const seen = standing && protecting.before(standing.look, standing.reactions);
  return {
    drop: { player: player.id, to: spot },
    blocks: (seen?.pickUp.blocks ?? []).map(({ blocker, rusher }) => ({
      player: blocker.id,
      defender: rusher.id,
    })),
    free: (seen?.pickUp.free ?? []).map((rusher) => {
      const at = arrival(play.situation.code, rusher, spot, inLine);
      return {
        defender: rusher.id,
        to: spot,
        label: `free ${at.toFixed(1)} s`,
        inTime: at < drop.ballOut.to,
      };
    }),
  };
}
