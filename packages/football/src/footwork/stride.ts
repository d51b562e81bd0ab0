import { lambertW0, W0_LIMIT_POINT } from 'lambert-w-function';

/** A way of moving with one closed form. Yards, seconds; `speed` is his speed as it begins. */
export type Stride =
  | { readonly kind: 'stand'; readonly speed: 0 }
  /** On at one speed, not pushing. */
  | { readonly kind: 'coast'; readonly speed: number }
  /** Mono-exponential toward `limit` from the speed he has, which is never above it. */
  | {
      readonly kind: 'push';
      readonly speed: number;
      readonly limit: number;
      readonly tau: number;
    }
  /** Slowing steadily, at `rate` yd/s². */
  | { readonly kind: 'brake'; readonly speed: number; readonly rate: number };

/** How far he gets in the first `t` seconds. */
export function advance(stride: Stride, t: number): number {
  switch (stride.kind) {
    case 'stand':
      return 0;
    case 'coast':
      return stride.speed * t;
    case 'push':
      return (
        stride.limit * t + (stride.limit - stride.speed) * stride.tau * Math.expm1(-t / stride.tau)
      );
    case 'brake': {
      const slowing = Math.min(t, stride.speed / stride.rate);
      return slowing * (stride.speed - (stride.rate * slowing) / 2);
    }
  }
}

/** His speed after `t` seconds. */
export function speedIn(stride: Stride, t: number): number {
  switch (stride.kind) {
    case 'stand':
    case 'coast':
      return stride.speed;
    case 'push':
      return stride.limit + (stride.speed - stride.limit) * Math.exp(-t / stride.tau);
    case 'brake':
      return Math.max(0, stride.speed - stride.rate * t);
  }
}

/**
 * Seconds until he has gone `d` yards, as if the stride went on for ever; infinite where it never
 * takes him so far. For a push, with a = 1 − v₀/V and δ = d/(Vτ), t = τ·[δ + a + W₀(−a·e^(−δ−a))]:
 * the inverse of the sprint model begun at a speed.
 */
export function secondsTo(stride: Stride, d: number): number {
  if (d <= 0) return 0;
  switch (stride.kind) {
    case 'stand':
      return Number.POSITIVE_INFINITY;
    case 'coast':
      return d / stride.speed;
    case 'push': {
      const lag = 1 - stride.speed / stride.limit;
      const stretch = d / (stride.limit * stride.tau) + lag;
      const w = lambertW0(Math.max(W0_LIMIT_POINT, -lag * Math.exp(-stretch)));
      return Math.max(0, stride.tau * (stretch + w));
    }
    case 'brake': {
      const left = stride.speed ** 2 - 2 * stride.rate * d;
      return left < 0 ? Number.POSITIVE_INFINITY : (2 * d) / (stride.speed + Math.sqrt(left));
    }
  }
}
