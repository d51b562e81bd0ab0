/** Asked this often, a statement is worth keeping planned. */
const oftenEnough = 5;
/** Each connection keeps its own plan of each of them. */
const maxNamed = 64;
/** Texts that are counted; past this counting begins anew. */
const maxCounted = 1_000;

/**
 * Names for the statements that are asked again and again: Postgres plans what has a name once a
 * connection. Planning costs more than most of our statements themselves.
 */
export class StatementNames {
  readonly #names = new Map<string, string>();
  readonly #asked = new Map<string, number>();

  /** Empty, the protocol's word for none: it is planned for this once. */
  of(sql: string): string {
    const known = this.#names.get(sql);
    if (known) return known;
    if (this.#names.size >= maxNamed) return '';
    const asked = (this.#asked.get(sql) ?? 0) + 1;
    if (asked < oftenEnough) {
      if (this.#asked.size >= maxCounted) this.#asked.clear();
      this.#asked.set(sql, asked);
      return '';
    }
    this.#asked.delete(sql);
    const name = `stemline_${this.#names.size}`;
    this.#names.set(sql, name);
    return name;
  }
}
