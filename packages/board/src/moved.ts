/** Of those that both have, which stand elsewhere among them: all but a longest run that kept its order. */
export function moved(
  before: readonly { readonly id: string }[],
  after: readonly { readonly id: string }[],
): string[] {
  const place = new Map(before.map(({ id }, i) => [id, i]));
  const common = after.map(({ id }) => id).filter((id) => place.has(id));
  // Longest increasing run of old places, by patience sorting.
  const tails: number[] = [];
  const previous: number[] = [];
  const at = (i: number): number => place.get(common[i] ?? '') ?? 0;
  common.forEach((_, i) => {
    let low = 0;
    let high = tails.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (at(tails[middle] ?? 0) < at(i)) low = middle + 1;
      else high = middle;
    }
    previous[i] = low === 0 ? -1 : (tails[low - 1] ?? -1);
    tails[low] = i;
  });
  const kept = new Set<number>();
  for (let i = tails.at(-1) ?? -1; i >= 0; i = previous[i] ?? -1) kept.add(i);
  return common.filter((_, i) => !kept.has(i));
}
