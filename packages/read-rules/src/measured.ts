/**
 * A length as a fact: to a millionth of a yard, so that a man put at exactly two yards is measured
 * there whatever the binary fractions on the way. Never minus zero.
 */
export const measured = (yards: number): number => Math.round(yards * 1e6) / 1e6 + 0;

export const clamp = (value: number, min: number, max: number): number =>
  Math.min(max, Math.max(min, value));
