import type { Point } from '@stemline/football/geometry';
import type { DefenderId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook, ReactionChoice } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import type { Blocks } from './blocking.ts';
import type { Frame } from './view.ts';

/** Why something is marked on the drawing. */
export type Tone = 'selected' | 'stop' | 'warn' | 'note' | 'changed';

export type Highlight =
  | { kind: 'player' | 'route' | 'motion'; player: PlayerId; tone: Tone }
  | { kind: 'defender'; defender: DefenderId; tone: Tone };

/** A line beside the play's own, such as a branch of a read card. */
export interface ExtraPath {
  id: string;
  points: readonly Point[];
  /** `quiet`: there is such a way; `plain`: one of the ways that count; `lit`: the one that is taken. */
  emphasis: 'quiet' | 'plain' | 'lit';
  end: 'arrow' | 'dot' | 'none';
  /** Stands beside the line; may be empty. */
  label: string;
  /** Where it stands; a throw has it half-way, clear of the man it goes to. */
  labelAt?: 'end' | 'middle';
}

export interface SceneOptions {
  frame?: Frame;
  look?: AlignedLook | null;
  /** A defender not named does the first of his reactions. */
  reactions?: ReactionChoice;
  showReactions?: 'all' | 'key' | 'none';
  key?: DefenderId | null;
  highlights?: readonly Highlight[];
  paths?: readonly ExtraPath[];
  /** Height of the letters beside paths, yards; a small drawing needs larger ones. */
  labelSize?: number;
  /** Men whose drawn line only leads to where paths go on: it is not ended where nothing follows. */
  stems?: readonly PlayerId[];
  blocks?: Blocks | null;
  /** Players on the way of a drag stand here; where they came from is drawn as a ghost. */
  dragging?: ReadonlyMap<PlayerId, Point>;
  showBreaks?: boolean;
  /** An earlier drawing of this play: what differs is drawn under it. */
  before?: Play | null;
}
