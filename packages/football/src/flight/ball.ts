import { z } from 'zod';
import type { Sourced } from '../sourced.ts';
import { metresPerYard } from '../units.ts';

/** What decides how a ball slows down. A spiral that flies nose first; no wind, no side force. */
export const ballSchema = z.strictObject({
  /** Drag coefficient on the frontal area; 0 is a vacuum. */
  dragCoefficient: z.number().min(0).max(0.3),
  /** kg/m³. */
  airDensity: z.number().min(0.7).max(1.5),
  /** kg. */
  mass: z.number().min(0.35).max(0.5),
  /** Largest cross-section, m². */
  frontalArea: z.number().min(0.02).max(0.026),
});
export type Ball = z.infer<typeof ballSchema>;

const kilogramsPerOunce = 0.028349523125;

/** Cross-section, m², of a ball whose short circumference is so many inches. */
const crossSection = (inches: number): number => (inches * 0.0254) ** 2 / (4 * Math.PI);

/** Where each number of the ball comes from, and the band it lies in. */
export const ballValues = {
  dragCoefficient: {
    from: 0.05,
    value: 0.1,
    to: 0.2,
    unit: '',
    provenance: 'judgement',
    source:
      'Between 0.05–0.14 (Allain, "Throwing a Football, Part II", 2008, second hand), 0.14 (quoted from Dzielski & Blackburn 2022) and about 0.2 (Alam et al. 2012, number from memory)',
  },
  airDensity: {
    from: 1,
    value: 1.225,
    to: 1.3,
    unit: 'kg/m³',
    provenance: 'memory',
    source: 'International standard atmosphere: sea level, 15 °C; thinner in heat and altitude',
  },
  mass: {
    from: 14 * kilogramsPerOunce,
    value: 14.5 * kilogramsPerOunce,
    to: 15 * kilogramsPerOunce,
    unit: 'kg',
    provenance: 'computed',
    source: 'Middle of 14–15 oz: NCAA 1-3-1 and NFL Rule 2 (second hand); NFHS from memory',
  },
  frontalArea: {
    from: crossSection(20.75),
    value: crossSection(21.125),
    to: crossSection(21.25),
    unit: 'm²',
    provenance: 'computed',
    source:
      'Short circumference 21 1/8 in, middle of NFL Rule 2 (21–21 1/4 in, second hand); band from 20 3/4 in (NCAA 1-3-1, second hand)',
  },
} as const satisfies Record<keyof Ball, Sourced>;

export const standardBall: Ball = {
  dragCoefficient: ballValues.dragCoefficient.value,
  airDensity: ballValues.airDensity.value,
  mass: ballValues.mass.value,
  frontalArea: ballValues.frontalArea.value,
};

/** Standard gravity, m/s² (CGPM 1901), and in yd/s². */
export const standardGravity = 9.80665;
export const gravity = standardGravity / metresPerYard;

/** What pulls and what holds back: the two numbers that a flight is made of, in one unit of length. */
export interface Air {
  /** Length per second squared. */
  readonly gravity: number;
  /** k in (deceleration = k · speed²), per length. */
  readonly drag: number;
}

/** k = ρ·Cd·A / 2m, per metre. */
export const dragPerMetre = (ball: Ball): number =>
  (ball.airDensity * ball.dragCoefficient * ball.frontalArea) / (2 * ball.mass);

/** In yards. */
export const airOf = (ball: Ball): Air => ({ gravity, drag: dragPerMetre(ball) * metresPerYard });
