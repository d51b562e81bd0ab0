import type { Sourced } from '../sourced.ts';

/** From a sight that a man waits for to his answer, s. */
export const simpleReaction: Sourced = {
  from: 0.19,
  value: 0.231,
  to: 0.26,
  unit: 's',
  provenance: 'read',
  source:
    'Woods et al., Front Hum Neurosci 2015;9:131, n = 1,469: mean 0.231 s, +0.55 ms a year of age; 0.19 s in older work (second hand)',
};

/** From a receiver's visible cut to the defender's first step, plant included, s. */
export const defenderBreak: Sourced = {
  from: 0.25,
  value: 0.32,
  to: 0.4,
  unit: 's',
  provenance: 'commonPractice',
  source: 'Common practice, from memory, no single source',
};

/** What a choice between equally likely answers costs: base + perBit · log₂(choices). Seconds. */
export interface ChoiceCost {
  readonly base: number;
  readonly perBit: number;
}

/** Unpractised: Hick 1952, Hyman 1953 as described second hand (about 0.15 s a bit). */
export const unpractised: ChoiceCost = { base: 0.2, perBit: 0.15 };

/** A read that is coached and expected costs less a bit; 0.05–0.10 s, from memory. */
export const coached: ChoiceCost = { base: 0.2, perBit: 0.075 };

/** Seconds to decide between so many answers, 1 or more. */
export const choiceTime = ({ base, perBit }: ChoiceCost, choices: number): number =>
  base + perBit * Math.log2(Math.max(1, choices));
