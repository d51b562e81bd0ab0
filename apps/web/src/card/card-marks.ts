import type { PlayerId } from '@stemline/football/ids';
import type { Element, Finding } from '@stemline/read-rules/finding';
import { findingOf, holds, isWaived, type ShownFinding } from '../rule-check/shown-finding.ts';

/** The findings of one card, by what they are about; what is about the card as a whole comes apart. */
export interface CardFindings {
  card: readonly Finding[];
  rows: ReadonlyMap<string, readonly Finding[]>;
  branches: ReadonlyMap<string, readonly Finding[]>;
}

const idOn = (element: Element, player: PlayerId, kind: 'row' | 'branch'): string | null => {
  if (element.kind === 'row' && kind === 'row' && element.player === player) return element.row;
  if (element.kind === 'branch' && kind === 'branch' && element.player === player) {
    return element.branch;
  }
  return null;
};

export function findingsOfCard(findings: readonly ShownFinding[], player: PlayerId): CardFindings {
  const rows = new Map<string, Finding[]>();
  const branches = new Map<string, Finding[]>();
  const card: Finding[] = [];
  for (const shown of findings) {
    if (isWaived(shown) || !holds(shown)) continue;
    const finding = findingOf(shown);
    let placed = false;
    // A row that is never used names those that come before it: they are not to blame.
    const about = finding.kind === 'neverUsed' ? finding.elements.slice(0, 1) : finding.elements;
    for (const element of about) {
      for (const [kind, map] of [
        ['row', rows],
        ['branch', branches],
      ] as const) {
        const id = idOn(element, player, kind);
        if (id === null) continue;
        map.set(id, [...(map.get(id) ?? []), finding]);
        placed = true;
      }
    }
    const whole = finding.elements.some(
      (element) => element.kind === 'card' && element.player === player,
    );
    if (whole && !placed) card.push(finding);
  }
  return { card, rows, branches };
}
