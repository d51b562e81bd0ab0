import { lambertW0 } from 'lambert-w-function';

/**
 * The mono-exponential sprint: v(t) = V(1 − e^(−t/τ)). Furusawa, Hill & Parkinson 1927; di Prampero
 * et al. 2005, J Exp Biol 208:2809; Samozino et al. 2016. Any consistent unit of length.
 */
export interface Sprint {
  /** V: the speed he tends to, length per second. Positive. */
  readonly maxSpeed: number;
  /** τ: seconds to reach 63 % of it. Positive. */
  readonly tau: number;
}

/** d(t): how far he has run after `t` seconds from rest; 0 before the start. */
export const distanceAfter = ({ maxSpeed, tau }: Sprint, t: number): number =>
  t <= 0 ? 0 : maxSpeed * (t + tau * Math.expm1(-t / tau));

/** v(t). */
export const speedAfter = ({ maxSpeed, tau }: Sprint, t: number): number =>
  t <= 0 ? 0 : -maxSpeed * Math.expm1(-t / tau);

/** a(t); a(0) = V/τ is the greatest he has. */
export const accelerationAfter = ({ maxSpeed, tau }: Sprint, t: number): number =>
  t < 0 ? 0 : (maxSpeed / tau) * Math.exp(-t / tau);

/** t(d): the inverse in closed form, on the principal branch of Lambert's W; 0 for d ≤ 0. */
export function timeToRun({ maxSpeed, tau }: Sprint, d: number): number {
  if (d <= 0) return 0;
  const stretch = d / (maxSpeed * tau);
  return tau * (lambertW0(-Math.exp(-stretch - 1)) + stretch + 1);
}

/**
 * Seconds from the snap until he has run this many yards straight, his start included; 0 for no yards.
 * `start` is the time to his first movement.
 */
export const timeToDepth = (preset: Sprint & { readonly start: number }, yards: number): number =>
  yards <= 0 ? 0 : preset.start + timeToRun(preset, yards);
