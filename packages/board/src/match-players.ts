import type { PlayerId } from '@stemline/football/ids';
import type { Player } from '@stemline/football/play';

/**
 * Who of a new formation is who of the old one: the same label is the same man, and he keeps his
 * id. `kept` is the new formation with the ids to use; `gone` are those whose
 * belongings go, even where a new man comes to wear the same id.
 */
export function matchPlayers(
  stored: readonly { readonly id: PlayerId; readonly label: string | null }[],
  next: readonly Player[],
): { readonly kept: readonly Player[]; readonly gone: readonly PlayerId[] } {
  const free = [...stored].sort((a, b) => (a.id < b.id ? -1 : 1));
  const carried = new Map<Player, PlayerId>();
  for (const player of next) {
    const at = free.findIndex((old) => old.label === player.label);
    const [old] = at < 0 ? [] : free.splice(at, 1);
    if (old !== undefined) carried.set(player, old.id);
  }
  // Two who change the formation at once should come to the same ids, so a new man brings his own
  // unless somebody else carries it.
  const used = new Set<string>(carried.values());
  const kept = next.map((player) => {
    const old = carried.get(player);
    if (old !== undefined) return { ...player, id: old };
    const id = freeId(player.id, used);
    used.add(id);
    return { ...player, id };
  });
  return { kept, gone: free.map((old) => old.id) };
}

function freeId(wanted: PlayerId, used: ReadonlySet<string>): PlayerId {
  if (!used.has(wanted)) return wanted;
  let n = 2;
  while (used.has(`${wanted.slice(0, 36)}${n}`)) n += 1;
  return `${wanted.slice(0, 36)}${n}` as PlayerId;
}
