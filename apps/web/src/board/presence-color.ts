const tokens = 8;

/**
 * A colour of the theme for everybody who is here, the same on every screen: each by his id, and
 * where two would share one, the later id takes the next that is free.
 */
export function presenceColors(members: Iterable<string>): ReadonlyMap<string, string> {
  const colors = new Map<string, string>();
  const taken = new Set<number>();
  for (const id of [...new Set(members)].sort()) {
    let slot = 0;
    for (const letter of id) slot = (slot * 31 + (letter.codePointAt(0) ?? 0)) % 1_000_003;
    slot %= tokens;
    while (taken.has(slot) && taken.size < tokens) slot = (slot + 1) % tokens;
    taken.add(slot);
    colors.set(id, `var(--presence-${slot + 1})`);
  }
  return colors;
}
