import type { LiveFinding } from '@stemline/protocol/message';
import type { Finding } from '@stemline/read-rules/finding';

/** A finding as this page shows it: the room's, or what its own check has seen ahead of the room's. */
export type ShownFinding =
  /** The room has it, with its history; the words may already be those of the play on this page. */
  | { state: 'stands'; live: LiveFinding }
  /** Edits that the room has not checked take it away. */
  | { state: 'closes'; live: LiveFinding }
  /** Edits that the room has not checked bring it. */
  | { state: 'opens'; finding: Finding };

export const findingOf = (shown: ShownFinding): Finding =>
  shown.state === 'opens' ? shown.finding : shown.live.finding;

/** What holds for the play on this page. */
export const holds = ({ state }: ShownFinding): boolean => state !== 'closes';

export const isWaived = (shown: ShownFinding): boolean =>
  shown.state !== 'opens' && shown.live.waived !== null;

export const asTheRoomSays = (room: readonly LiveFinding[]): ShownFinding[] =>
  room.map((live) => ({ state: 'stands', live }));

/** The same findings; what they say may differ in its numbers. */
export const agree = (room: readonly LiveFinding[], own: readonly Finding[]): boolean => {
  const ids = new Set(room.map(({ finding }) => finding.id));
  return ids.size === own.length && own.every(({ id }) => ids.has(id));
};

/**
 * The room's findings with what this page's check says of the play on it: each finding once, and one
 * that has only become another in its numbers, as a gap that grows, only as it is now. Mends stay
 * those of the room, for only they have been tried.
 */
export function seenAhead(room: readonly LiveFinding[], own: readonly Finding[]): ShownFinding[] {
  const now = new Map(own.map((finding) => [finding.id, finding] as const));
  const known = new Set(room.map(({ finding }) => finding.id));
  const fresh = own.filter(({ id }) => !known.has(id));
  const becomes = new Set(fresh.map(aboutOf));
  const shown = room.flatMap((live): ShownFinding[] => {
    const finding = now.get(live.finding.id);
    if (!finding) return becomes.has(aboutOf(live.finding)) ? [] : [{ state: 'closes', live }];
    const { mends } = live.finding;
    return [
      { state: 'stands', live: { ...live, finding: mends ? { ...finding, mends } : finding } },
    ];
  });
  return [...shown, ...fresh.map((finding): ShownFinding => ({ state: 'opens', finding }))];
}

const aboutOf = ({ kind, elements }: Finding): string => JSON.stringify([kind, elements]);

const partsOf = (shown: ShownFinding, isHeld: boolean): unknown[] => {
  const { severity, says, mend, mends, witness } = findingOf(shown);
  const { openedAt, waived, authors } = shown.state === 'opens' ? noHistory : shown.live;
  const proof = isHeld ? [witness?.look.name, witness?.says] : [witness, mends];
  return [shown.state, severity, says, mend, openedAt, waived, authors, ...proof];
};
const noHistory = { openedAt: null, waived: null, authors: null };

/**
 * `next`, but what reads the same is the very object it was, so that only what a coach would see
 * changed is drawn again. While a hand is on the play (`isHeld`) its witnesses stand where they stood.
 */
export function calm(
  before: readonly ShownFinding[],
  next: readonly ShownFinding[],
  isHeld: boolean,
): readonly ShownFinding[] {
  const old = new Map(before.map((shown) => [findingOf(shown).id, shown] as const));
  const kept = next.map((shown) => {
    const was = old.get(findingOf(shown).id);
    return was && sameParts(partsOf(was, isHeld), partsOf(shown, isHeld)) ? was : shown;
  });
  return kept.length === before.length && kept.every((shown, i) => shown === before[i])
    ? before
    : kept;
}

const sameParts = (ours: readonly unknown[], theirs: readonly unknown[]): boolean =>
  ours.length === theirs.length && ours.every((part, i) => part === theirs[i]);
