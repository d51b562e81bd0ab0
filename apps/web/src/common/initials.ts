/** At most two letters that stand for a name. */
export function initials(name: string): string {
  const words = name.trim().split(/\s+/);
  const first = words[0] ?? '';
  const last = words.length > 1 ? (words.at(-1) ?? '') : '';
  return [first, last]
    .map((word) => [...word][0] ?? '')
    .join('')
    .toLocaleUpperCase();
}
