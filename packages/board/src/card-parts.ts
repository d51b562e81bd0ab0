import { type PlayerId, playerIdSchema } from '@stemline/football/ids';
import type { Branch, Row } from '@stemline/read-rules/card';
import { keysOfCard } from './belongings.ts';
import { type Refused, refuse } from './edit.ts';
import type { Recorder } from './history.ts';
import { maxBranchesOfCard, maxRowsOfCard } from './limits.ts';
import { byOrder, type Ordered, place } from './order.ts';
import { readValue } from './read-value.ts';
import type { Roots } from './schema.ts';

/** Where a row or branch comes to stand; left out: it stays, or a new one comes last. Null: first. */
export interface Placing<Id> {
  readonly after?: Id | null;
}

export type CardPart = 'rows' | 'branches';

type Putting = { readonly ok: true; readonly write: (to: Recorder) => void } | Refused;

/** What puts a row or branch on a player's card, at its place; or why it cannot be put there. */
export function puttingPart(
  roots: Roots,
  root: CardPart,
  player: PlayerId,
  value: Row | Branch,
  { after: wished }: Placing<string>,
): Putting {
  const whole = playerIdSchema.safeParse(player);
  if (!whole.success || !roots.maps.cards.has(player))
    return refuse('unknown', 'this player has no read card');
  const parts = partsOf(roots, root, player);
  const self = parts.find((part) => part.id === value.id);
  const max = root === 'rows' ? maxRowsOfCard : maxBranchesOfCard;
  if (self === undefined && parts.length >= max)
    return refuse('tooMany', `a card holds at most ${max} ${root}`);
  if (wished !== undefined && wished !== null && !parts.some((part) => part.id === wished))
    return refuse('unknown', 'what it should come after is not on the card');
  if (wished === value.id) return refuse('unknown', 'it cannot come after itself');
  if (self !== undefined && wished === undefined) {
    const { order } = self;
    return {
      ok: true,
      write: (to) => to.set(root, `${player}.${value.id}`, { ...value, order }),
    };
  }
  const after = wished === undefined ? (parts.at(-1)?.id ?? null) : wished;
  const orders = place(parts, value.id, after);
  return {
    ok: true,
    write: (to) => {
      for (const [id, order] of orders) {
        const key = `${player}.${id}`;
        const stored = id === value.id ? value : roots.maps[root].get(key);
        to.set(root, key, { ...(stored as object), order });
      }
    },
  };
}

/** Rows or branches of a card that can be read, in their order. */
function partsOf(roots: Roots, root: CardPart, player: PlayerId): Ordered[] {
  const parts: Ordered[] = [];
  for (const key of keysOfCard(roots, root, player)) {
    const reading = readValue(root, roots.maps[root].get(key));
    if (reading.ok) parts.push(reading.value);
  }
  return parts.sort(byOrder);
}
