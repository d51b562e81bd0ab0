/** Longest wait between two attempts, milliseconds. */
export const longestWaitMs = 20_000;
const firstWaitMs = 250;

/**
 * How long to wait before attempt number `failures + 1`: doubled each time, then drawn from its
 * upper half, so that a room full of pages does not come back in one beat.
 */
export function waitMs(failures: number, random: number): number {
  const whole = Math.min(longestWaitMs, firstWaitMs * 2 ** Math.min(failures, 10));
  return Math.round(whole * (0.5 + random / 2));
}
