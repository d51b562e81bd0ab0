import { z } from 'zod';
import type { Sourced } from '../sourced.ts';

/** The three ways of running that are told apart. */
export const gaitSchema = z.enum(['sprint', 'backpedal', 'shuffle']);
export type Gait = z.infer<typeof gaitSchema>;

const share = z.number().min(0).max(1);

/** What turning and other gaits cost a man. Shares are of his own sprint, so one set serves everybody. */
export const costsSchema = z
  .strictObject({
    /** Steady braking before a cut, as a share of his greatest acceleration V/τ. */
    braking: z.number().min(0.2).max(4),
    /** Share of the speed he would have had at a cut that he leaves it with, by the cut's angle. */
    keepsAt45: share,
    keepsAt90: share,
    keepsAt180: share,
    /** Top speed of a gait as a share of V. */
    backpedal: z.number().min(0.2).max(1),
    shuffle: z.number().min(0.2).max(1),
    /** Seconds in which a man who opens his hips from the backpedal to run does not push. */
    hipTurn: z.number().min(0).max(1),
  })
  .refine(
    ({ keepsAt45, keepsAt90, keepsAt180 }) => keepsAt45 >= keepsAt90 && keepsAt90 >= keepsAt180,
    'a sharper cut cannot keep more speed',
  );
export type Costs = z.infer<typeof costsSchema>;

const cuts =
  'Fitted to the time lost in a cut after 15 m: 0.245 s at 45°, 0.631 s at 90°, 1.211 s at 180°, derived from Giannakopoulos et al., Biology of Sport 2026';

export const costValues = {
  braking: { from: 0.6, value: 0.93, to: 1.1, unit: 'V/τ', provenance: 'computed', source: cuts },
  keepsAt45: { from: 0.5, value: 0.657, to: 0.8, unit: '', provenance: 'computed', source: cuts },
  keepsAt90: { from: 0.25, value: 0.339, to: 0.45, unit: '', provenance: 'computed', source: cuts },
  keepsAt180: { from: 0, value: 0, to: 0, unit: '', provenance: 'computed', source: cuts },
  backpedal: {
    from: 0.5,
    value: 0.55,
    to: 0.6,
    unit: 'V',
    provenance: 'memory',
    source:
      'Crouched backpedal 4.5–5.5 m/s, 50–60 % of forward; slower than running backward, about 70 % (Strength Cond J 2019;41(5):48 tells the two apart; numbers from memory)',
  },
  shuffle: {
    from: 0.38,
    value: 0.45,
    to: 0.5,
    unit: 'V',
    provenance: 'memory',
    source:
      'Free shuffle 3.5–4.5 m/s from memory; 3.66 m/s with turns in 12-ft lengths (conditioning norm, second hand)',
  },
  hipTurn: {
    from: 0.1,
    value: 0.2,
    to: 0.3,
    unit: 's',
    provenance: 'judgement',
    source: 'Ours, one step; nothing published was found',
  },
} as const satisfies Record<keyof Costs, Sourced>;

export const usualCosts: Costs = {
  braking: costValues.braking.value,
  keepsAt45: costValues.keepsAt45.value,
  keepsAt90: costValues.keepsAt90.value,
  keepsAt180: costValues.keepsAt180.value,
  backpedal: costValues.backpedal.value,
  shuffle: costValues.shuffle.value,
  hipTurn: costValues.hipTurn.value,
};

/** Share of his speed that a cut of so many degrees (0 to 180) leaves him; straight lines between the measured angles. */
export function keeps(costs: Costs, angle: number): number {
  if (angle <= 45) return between(1, costs.keepsAt45, Math.max(0, angle) / 45);
  if (angle <= 90) return between(costs.keepsAt45, costs.keepsAt90, (angle - 45) / 45);
  return between(costs.keepsAt90, costs.keepsAt180, Math.min(1, (angle - 90) / 90));
}

const between = (a: number, b: number, part: number): number => a + (b - a) * part;

/** Top speed of a gait as a share of V. */
export const shareOf = (costs: Costs, gait: Gait): number => (gait === 'sprint' ? 1 : costs[gait]);
