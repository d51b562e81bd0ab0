/** Whoever makes the server keep bytes that it can do nothing with yet. */
export interface Holding {
  readonly pass: { readonly userId: string };
  readonly heldBytes: number;
  holdsTooMuch(): void;
}

/** What a connection may hold without being counted: a chunk that is being read. */
const uncounted = 65_536;

/**
 * Ends connections of whoever holds more than `maxBytes` over all of them: in messages that are not finished, and
 * in those that wait for their room. Of one connection it is bounded anyway; one person may have thousands. SPEC R114.
 */
export function boundHeldBytes(connections: Iterable<Holding>, maxBytes: number): void {
  const held = new Map<string, number>();
  const counted: Holding[] = [];
  for (const one of connections) {
    const { heldBytes } = one;
    if (heldBytes <= uncounted) continue;
    counted.push(one);
    held.set(one.pass.userId, (held.get(one.pass.userId) ?? 0) + heldBytes);
  }
  // Whoever came last goes first: of an honest person's windows the old ones stay.
  for (const one of counted.reverse()) {
    const { userId } = one.pass;
    const bytes = held.get(userId) ?? 0;
    if (bytes <= maxBytes) continue;
    held.set(userId, bytes - one.heldBytes);
    one.holdsTooMuch();
  }
}
