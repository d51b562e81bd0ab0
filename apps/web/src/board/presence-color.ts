/** One of the theme's colours for people, the same for a member on every screen. */
export function presenceColor(memberId: string): string {
  let sum = 0;
  for (const letter of memberId) sum = (sum * 31 + (letter.codePointAt(0) ?? 0)) % 1_000_003;
  return `var(--presence-${(sum % 8) + 1})`;
}
