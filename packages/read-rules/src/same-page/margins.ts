import type { AlignedLook, Defender } from '@stemline/football/look';
import type { RuledPlay } from '../ruled-play.ts';
import { progressionOf } from '../throws/planned.ts';
import { lanesOf } from '../undercut/undercut.ts';
import { type Reading, targetOf } from './reader-card.ts';

/** How long before the nearest defender the ball has passed him; below zero he has a hand on it. */
export interface ThrowMargin {
  readonly seconds: number;
  readonly defender: Defender;
}

/** Margins above this are told as none: nobody is near. Seconds. */
const near = 1;

export type MarginOf = (
  passer: Reading,
  readings: readonly Reading[],
  look: AlignedLook,
  doing: readonly number[],
) => ThrowMargin | null;

/** The least margin of whatever a reading of the cards throws; each throw is worked out once. */
export function marginsOf(play: RuledPlay): MarginOf {
  const throws = progressionOf(play)?.throws ?? [];
  return (passer, readings, look, doing) => {
    const target = targetOf(passer);
    const his = readings.find(({ reader }) => reader.card.player === target);
    const planned = throws.find(
      ({ receiver, choice }) =>
        receiver.id === target && (!choice || choice.branch.id === his?.branch?.id),
    );
    const under = planned ? lanesOf(planned, near).underBy(look, doing) : null;
    return under && { seconds: under.seconds, defender: under.defender };
  };
}
