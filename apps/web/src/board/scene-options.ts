import type { Highlight, Tone } from '@stemline/drawing/options';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { Element, Finding } from '@stemline/read-rules/finding';

const tones: Record<Finding['severity'], Tone> = { stop: 'stop', warn: 'warn', note: 'note' };

function marksOf(element: Element, tone: Tone, everybody: readonly PlayerId[]): Highlight[] {
  switch (element.kind) {
    case 'player':
    case 'route':
    case 'motion':
      return [{ kind: element.kind, player: element.player, tone }];
    case 'card':
    case 'row':
    case 'branch':
      return [{ kind: 'player', player: element.player, tone }];
    case 'formation':
      return everybody.map((player) => ({ kind: 'player', player, tone }));
  }
}

/** What is marked on the board: what is selected goes before what a finding is about. */
export function highlightsOf(
  selected: readonly PlayerId[],
  finding: Finding | null,
  everybody: readonly PlayerId[],
  defender: DefenderId | null,
): Highlight[] {
  return [
    ...selected.flatMap((player): Highlight[] => [
      { kind: 'player', player, tone: 'selected' },
      { kind: 'route', player, tone: 'selected' },
    ]),
    ...(finding?.elements.flatMap((each) => marksOf(each, tones[finding.severity], everybody)) ??
      []),
    ...(defender ? [{ kind: 'defender', defender, tone: 'selected' } as const] : []),
  ];
}
