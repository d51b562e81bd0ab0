import type { Position } from '../play.ts';

/**
 * How a man finds his spot, in yards, in a frame where the strong side is +x and the ball is at 0.
 * Depths are behind the line, so positive.
 */
export type Place =
  /** On the bottom of the numbers, no further from the ball than the widest throw. */
  | { readonly kind: 'wide'; readonly side: 'strong' | 'weak'; readonly depth: number }
  /** This share of the way from the tackle to the widest man of his side. */
  | {
      readonly kind: 'slot';
      readonly side: 'strong' | 'weak';
      readonly share: number;
      readonly depth: number;
    }
  /** So many yards outside the tackle. */
  | {
      readonly kind: 'tackle';
      readonly side: 'strong' | 'weak';
      readonly yards: number;
      readonly depth: number;
    }
  /** So many yards from the ball; + is the strong side. */
  | { readonly kind: 'backfield'; readonly yards: number; readonly depth: number };

export interface Spot {
  readonly label: string;
  readonly position: Position;
  readonly number: number;
  readonly place: Place;
}

export interface Formation {
  readonly id: string;
  readonly name: string;
  /** Receivers to the two sides, the larger first: what `structureOf` says of it. */
  readonly structure: string;
  readonly personnel: string;
  /** The six who are not the interior line. */
  readonly skill: readonly [Spot, Spot, Spot, Spot, Spot, Spot];
  /** A tackle moved over: both stand to the strong side. */
  readonly unbalanced?: true;
}
