/** Client ids of one member that are remembered; a page has one, and who opens more forgets his oldest. */
const maxOfMember = 500;

/**
 * Whose client ids were seen in presence, also when he has gone since: what he did offline under one comes
 * when he is back, and nobody may have written under it meanwhile (R33). For as long as the room is in memory.
 */
export class SeenIds {
  readonly #owners = new Map<number, string>();
  readonly #of = new Map<string, Set<number>>();

  /** The first one keeps it. */
  saw(clientId: number, member: string): void {
    if (this.#owners.has(clientId)) return;
    this.#owners.set(clientId, member);
    const ids = this.#of.get(member) ?? new Set();
    this.#of.set(member, ids.add(clientId));
    if (ids.size <= maxOfMember) return;
    const [oldest] = ids;
    if (oldest === undefined) return;
    ids.delete(oldest);
    this.#owners.delete(oldest);
  }

  ownerOf(clientId: number): string | null {
    return this.#owners.get(clientId) ?? null;
  }

  clear(): void {
    this.#owners.clear();
    this.#of.clear();
  }
}
