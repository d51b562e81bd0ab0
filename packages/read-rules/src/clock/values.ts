import type { Sourced } from '@stemline/football/sourced';

/** What the clock of a throw and the judgement of it hang on. All of it for a staff to edit. */

const practice = {
  provenance: 'commonPractice',
  source: 'Common practice, no single source',
} as const;

/** A ball to a route without a choice may leave the hand this long before the break. */
export const anticipates: Sourced = {
  from: 0.1,
  value: 0.3,
  to: 0.4,
  unit: 's',
  ...practice,
};

/** From showing his eyes until a receiver has found a ball in the air: a simple visual reaction. */
export const findsBall: Sourced = {
  from: 0.19,
  value: 0.231,
  to: 0.26,
  unit: 's',
  provenance: 'read',
  source: 'Woods et al., Front Hum Neurosci 2015;9:131: mean simple reaction 0.231 s',
};

/**
 * A hitch and a reset of the feet on the way to the next man of a progression: what a hitch adds in
 * the table of drops (2.1–2.5 s without, 2.5–2.9 s with).
 */
export const resetsIn: Sourced = { from: 0.3, value: 0.4, to: 0.5, unit: 's', ...practice };

/** A ball that is due this little before its man is no fault: a passer holds it a moment. */
export const holdsBall: Sourced = {
  from: 0.1,
  value: 0.2,
  to: 0.3,
  unit: 's',
  provenance: 'judgement',
  source: 'Ours: half a hitch',
};

/** A man who has waited longer than this for the ball has given everybody time to close on him. */
export const waitsFor: Sourced = { from: 0.8, value: 1.2, to: 1.5, unit: 's', ...practice };

/** Two receivers this near to each other at the catch are covered by one man. */
export const spacing: Sourced = { from: 2, value: 2.5, to: 4, unit: 'yd', ...practice };

/** He catches it this far inside a line at least: a foot down in bounds, and a step. */
export const footDown: Sourced = { from: 0.3, value: 0.5, to: 1, unit: 'yd', ...practice };

/** From the middle of a man's body to the ball with his arm stretched out to the side. */
export const armsLength: Sourced = {
  from: 0.7,
  value: 0.9,
  to: 1.1,
  unit: 'yd',
  provenance: 'judgement',
  source: 'Ours: half an arm span of 1.9 m less the hand, rounded down',
};

/** How high he gets a hand on a ball on the run, without a jump. */
export const reachesUp: Sourced = {
  from: 2.4,
  value: 2.6,
  to: 3.1,
  unit: 'yd',
  provenance: 'judgement',
  source: 'Ours: a standing reach of about 2.4 m, no jump counted',
};

/** The last of the ball's way belongs to the receiver, who stands in the way of who comes there. */
export const shields: Sourced = {
  from: 0.5,
  value: 1,
  to: 1.5,
  unit: 'yd',
  provenance: 'judgement',
  source: 'Ours: a body and the arms before it',
};

/** Margins between these are too near to call; a defender must be clearly there to be told. */
export const tooNearToCall: Sourced = {
  from: 0,
  value: 0.1,
  to: 0.2,
  unit: 's',
  provenance: 'judgement',
  source: 'Ours: a tenth of a second, about a yard of a defender’s way',
};

/** A man who is only there by leaving his call must be there by more than this to be told. */
export const offHisCall: Sourced = {
  from: 0.2,
  value: 0.25,
  to: 0.4,
  unit: 's',
  provenance: 'judgement',
  source: 'Ours: a quarter of a second, two yards of a defender’s way',
};
