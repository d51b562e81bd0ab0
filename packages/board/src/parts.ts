import type { Branch, CardHead, Row } from '@stemline/read-rules/card';
import { type ElementKey, elementKey } from './element-key.ts';
import { byOrder } from './order.ts';
import { RootReading, type Unreadable } from './reading.ts';
import type { Roots, ValueOf } from './schema.ts';
import { shareList } from './share.ts';

type PartRoot = 'rows' | 'branches';
type Part<R extends PartRoot> = R extends 'rows' ? Row : Branch;
export const playerOf = (key: string): string => key.slice(0, key.indexOf('.'));

/** Rows or branches by player, each player's in their order; only a touched player's are sorted again. */
export class PartReading<R extends PartRoot> extends RootReading<R> {
  readonly #max: number;
  readonly #byPlayer = new Map<string, Set<string>>();
  readonly #lists = new Map<string, readonly Part<R>[]>();
  readonly #extra = new Map<string, readonly string[]>();
  readonly #stale = new Set<string>();

  constructor(roots: Roots, root: R, max: number) {
    super(roots, root);
    this.#max = max;
    for (const key of this.values.keys()) this.#file(key);
  }

  override touch(key: string): void {
    super.touch(key);
    // The base class reads everything before these fields exist; the constructor files it then.
    if (#byPlayer in this) this.#file(key);
  }

  #file(key: string): void {
    const player = playerOf(key);
    const keys = this.#byPlayer.get(player) ?? new Set();
    if (this.values.has(key)) keys.add(key);
    else keys.delete(key);
    if (keys.size > 0) this.#byPlayer.set(player, keys);
    else this.#byPlayer.delete(player);
    this.#stale.add(player);
  }

  /** What a player's card shows. */
  of(player: string): readonly Part<R>[] {
    if (this.#stale.delete(player) || !this.#lists.has(player)) this.#sort(player);
    return this.#lists.get(player) ?? [];
  }

  #sort(player: string): void {
    const sorted = [...(this.#byPlayer.get(player) ?? [])]
      .map((key) => this.values.get(key))
      .filter((value) => value !== undefined)
      .sort(byOrder);
    const extra = sorted.splice(this.#max);
    this.#lists.set(
      player,
      shareList(
        this.#lists.get(player),
        sorted.map((value) => withoutOrder<R>(value)),
      ),
    );
    this.#extra.set(
      player,
      extra.map((value) => value.id),
    );
  }

  /** Those that a card has no room for. Ask after `of` each card's player. */
  tooMany(cards: Readonly<Record<string, CardHead>>): Unreadable[] {
    return Object.keys(cards).flatMap((player) =>
      (this.#extra.get(player) ?? []).map((id) => ({
        key: elementKey(this.root, `${player}.${id}`),
        why: `a card holds at most ${this.#max} ${this.root}`,
      })),
    );
  }

  /** Those whose card is gone. */
  orphans(cards: Readonly<Record<string, CardHead>>): ElementKey[] {
    return [...this.#byPlayer]
      .filter(([player]) => !Object.hasOwn(cards, player))
      .flatMap(([, keys]) => [...keys].map((key) => elementKey(this.root, key)));
  }
}

const bare = new WeakMap<object, unknown>();

function withoutOrder<R extends PartRoot>(value: ValueOf<R>): Part<R> {
  const known = bare.get(value);
  if (known !== undefined) return known as Part<R>;
  const { order: _, ...part } = value;
  bare.set(value, Object.freeze(part));
  return part as unknown as Part<R>;
}
