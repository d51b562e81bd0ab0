import { type ElementKey, elementKey } from '@stemline/board/element-key';
import type { DefenderId, LookId, PlayerId, ReactionId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';

/** What stands against the play on this coach's board; nobody else sees it. */
export type Defence =
  | { kind: 'none' }
  /** A look of the shelf, aligned afresh as the play moves. */
  | { kind: 'shelf'; look: LookId; reactions: ReactionChoice }
  /** The look that proves a finding, as the rule check stood it. */
  | { kind: 'witness'; finding: string; look: AlignedLook; reactions: ReactionChoice };

export type Tool = 'select' | 'route' | 'motion';

/** What belongs to one page of one coach: selection, tool, what is stood up, what is open. */
export interface BoardUi {
  tool: Tool;
  selected: readonly PlayerId[];
  /** Element key of what he is at: shown to the others, and what a comment would be about. Empty: the whole play. */
  about: string;
  defence: Defence;
  /** Whose read card is open. */
  card: PlayerId | null;
  /** The finding whose elements are marked. */
  finding: string | null;
  showReactions: boolean;
  showBranches: boolean;
  /** Who blocks whom, besides while Protection is open. */
  showBlocking: boolean;
  /** Cropped to the formation; null: as the width of the window asks for. */
  cropped: boolean | null;
}

export type UiAction =
  | { do: 'tool'; tool: Tool }
  | { do: 'select'; players: readonly PlayerId[] }
  | { do: 'about'; element: ElementKey }
  /** With the reactions named; without them all do as they are called. */
  | { do: 'standLook'; look: LookId; reactions?: ReactionChoice }
  | { do: 'clearDefence' }
  | { do: 'react'; defender: DefenderId; reaction: ReactionId }
  | {
      do: 'showFinding';
      finding: string;
      witness: { look: AlignedLook; reactions: ReactionChoice } | null;
      card: PlayerId | null;
    }
  | { do: 'hideFinding' }
  | { do: 'openCard'; player: PlayerId | null }
  | { do: 'showReactions'; shown: boolean }
  | { do: 'showBranches'; shown: boolean }
  | { do: 'showBlocking'; shown: boolean }
  | { do: 'crop'; cropped: boolean }
  /** These players are no longer on the board. */
  | { do: 'keepOnly'; players: readonly PlayerId[] };

export const uiAtFirst: BoardUi = {
  tool: 'select',
  selected: [],
  about: '',
  defence: { kind: 'none' },
  card: null,
  finding: null,
  showReactions: true,
  showBranches: true,
  showBlocking: false,
  cropped: null,
};

const aboutPlayers = ([first]: readonly PlayerId[]): string =>
  first === undefined ? '' : elementKey('players', first);

function reacting(defence: Defence, defender: DefenderId, reaction: ReactionId): Defence {
  if (defence.kind === 'none') return defence;
  return { ...defence, reactions: { ...defence.reactions, [defender]: reaction } };
}

export function uiStep(ui: BoardUi, action: UiAction): BoardUi {
  switch (action.do) {
    case 'tool':
      return { ...ui, tool: action.tool };
    case 'select':
      return { ...ui, selected: action.players, about: aboutPlayers(action.players) };
    case 'about':
      return { ...ui, about: action.element };
    case 'standLook':
      return {
        ...ui,
        finding: null,
        defence: { kind: 'shelf', look: action.look, reactions: action.reactions ?? {} },
      };
    case 'clearDefence':
      return { ...ui, finding: null, defence: { kind: 'none' } };
    case 'react':
      return { ...ui, defence: reacting(ui.defence, action.defender, action.reaction) };
    case 'showFinding':
      return {
        ...ui,
        finding: action.finding,
        card: action.card ?? ui.card,
        defence: action.witness
          ? { kind: 'witness', finding: action.finding, ...action.witness }
          : ui.defence.kind === 'witness'
            ? { kind: 'none' }
            : ui.defence,
      };
    case 'hideFinding':
      return {
        ...ui,
        finding: null,
        defence: ui.defence.kind === 'witness' ? { kind: 'none' } : ui.defence,
      };
    case 'openCard':
      return { ...ui, card: action.player };
    case 'showReactions':
      return { ...ui, showReactions: action.shown };
    case 'showBranches':
      return { ...ui, showBranches: action.shown };
    case 'showBlocking':
      return { ...ui, showBlocking: action.shown };
    case 'crop':
      return { ...ui, cropped: action.cropped };
    case 'keepOnly': {
      const selected = ui.selected.filter((player) => action.players.includes(player));
      const card = ui.card !== null && action.players.includes(ui.card) ? ui.card : null;
      return selected.length === ui.selected.length && card === ui.card
        ? ui
        : { ...ui, selected, card, about: aboutPlayers(selected) };
    }
  }
}
