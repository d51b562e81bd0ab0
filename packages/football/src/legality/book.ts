import type { Position } from '../play.ts';
import type { RuleCode } from '../rulecode.ts';

/**
 * What the three rule books ask of a scrimmage formation. Sections carry the season they were read
 * in; books are reissued each year. "From memory" and "second hand" are said where they hold.
 * Scrimmage-kick formations and players who report a change of position are not covered.
 */
export interface Book {
  readonly season: string;
  /** Fewest men on the line, where the book counts them. */
  readonly minOnLine: (Section & { readonly count: number }) | null;
  /** Most backs, where the book counts them. */
  readonly maxBacks: (Section & { readonly count: number }) | null;
  /** Fewest men on the line numbered 50 to 79. */
  readonly minLineNumbers: (Section & { readonly count: number }) | null;
  readonly ineligibleNumbers: Section & {
    readonly ranges: readonly (readonly [number, number])[];
  };
  /** Numbers that men of a position may wear, where the book gives positions their numbers. */
  readonly positionNumbers:
    | (Section & {
        readonly ranges: Partial<
          Readonly<Record<Position, readonly (readonly [number, number])[]>>
        >;
      })
    | null;
  readonly sameNumber: Section;
  readonly eligibleByPosition: Section;
  /** Whether the man under the snapper, hands ready, may catch a forward pass. */
  readonly underCentreEligible: Section & { readonly isEligible: boolean };
  readonly lineOrBack: Section;
  readonly behindLine: Section;
  readonly snapper: Section;
  readonly inBounds: Section;
  /** Who goes out of bounds may not catch the ball from then on. */
  readonly wentOut: Section;
  /** How far past the line a man who may not catch the ball can be before a pass over it is thrown. Yards. */
  readonly downfield: Section & { readonly yards: number };
  readonly motion: Section;
  /** What a man who was set on the line must do before he may be moving at the snap. */
  readonly motionFromLine: Section & {
    /** Yards behind the line at the snap that make it good; null where he must set as a back first. */
    readonly enoughBehind: number | null;
  };
}

export interface Section {
  readonly source: string;
}

export const books: Readonly<Record<RuleCode, Book>> = {
  highSchool: {
    season: '2019',
    minOnLine: null,
    maxBacks: { count: 4, source: 'NFHS 2-14-1, 7-2-5a (2019)' },
    minLineNumbers: { count: 5, source: 'NFHS 2-14-1, 7-2-5a (2019)' },
    ineligibleNumbers: { ranges: [[50, 79]], source: 'NFHS 7-5-6 (article from memory)' },
    positionNumbers: null,
    sameNumber: { source: 'NFHS 1-4-3 (from memory)' },
    eligibleByPosition: { source: 'NFHS 7-5-6 (article from memory)' },
    underCentreEligible: { isEligible: true, source: 'NFHS 2-32-3: he is a back' },
    lineOrBack: { source: 'NFHS 7-2-3, 2-25-2' },
    behindLine: { source: 'NFHS 7-1-6 (from memory)' },
    snapper: { source: 'NFHS 7-1-1 (from memory)' },
    inBounds: { source: 'NFHS section 7-2 (article from memory)' },
    wentOut: { source: 'NFHS 7-5-6 (article from memory)' },
    downfield: { yards: 2, source: 'NFHS 2-28-2, 7-5-12: the expanded neutral zone' },
    motion: { source: 'NFHS 7-2-7' },
    motionFromLine: { enoughBehind: 5, source: 'NFHS 7-2-7' },
  },
  college: {
    season: '2021',
    minOnLine: null,
    maxBacks: { count: 4, source: 'NCAA 7-1-4-a-4' },
    minLineNumbers: { count: 5, source: 'NCAA 7-1-4-a-3' },
    ineligibleNumbers: { ranges: [[50, 79]], source: 'NCAA 7-3-3' },
    positionNumbers: null,
    sameNumber: { source: 'NCAA 1-4-2 (from memory)' },
    eligibleByPosition: { source: 'NCAA 7-3-3-c' },
    underCentreEligible: { isEligible: true, source: 'NCAA 2-27-4-d-2: he is a back' },
    lineOrBack: { source: 'NCAA 7-1-4-a-2' },
    behindLine: { source: 'NCAA 7-1-4 (article from memory)' },
    snapper: { source: 'NCAA 7-1-3 (from memory)' },
    inBounds: { source: 'NCAA 7-1-4-a-1 (from memory)' },
    wentOut: { source: 'NCAA 7-3-4' },
    downfield: { yards: 3, source: 'NCAA 7-3-10' },
    motion: { source: 'NCAA 7-1-4-b' },
    motionFromLine: { enoughBehind: null, source: 'NCAA 7-1-4-b (second hand)' },
  },
  professional: {
    season: '2023',
    minOnLine: { count: 7, source: 'NFL section 7-5 (number from memory)' },
    maxBacks: null,
    minLineNumbers: null,
    ineligibleNumbers: {
      ranges: [
        [50, 79],
        [90, 99],
      ],
      source: 'NFL section 5-3 (second hand)',
    },
    positionNumbers: {
      ranges: {
        C: [[50, 79]],
        G: [[50, 79]],
        T: [[50, 79]],
        QB: [[0, 19]],
        RB: [
          [0, 49],
          [80, 89],
        ],
        TE: [
          [0, 49],
          [80, 89],
        ],
        WR: [
          [0, 49],
          [80, 89],
        ],
      },
      source: 'NFL 5-1-2 as changed in 2021 and 2023 (second hand)',
    },
    sameNumber: { source: 'NFL section 5-1 (from memory)' },
    eligibleByPosition: { source: 'NFL section 8-1 (number from memory)' },
    underCentreEligible: {
      isEligible: false,
      source: 'NFL section 8-1 (second hand): a T-formation quarterback is not eligible',
    },
    lineOrBack: { source: 'NFL section 7-5: a back is a yard behind the line (second hand)' },
    behindLine: { source: 'NFL section 7-4 (number from memory)' },
    snapper: { source: 'NFL section 7-6 (number from memory)' },
    inBounds: { source: 'NFL section 7-5 (number from memory)' },
    wentOut: { source: 'NFL section 8-1 (number from memory)' },
    downfield: { yards: 1, source: 'NFL 8-3-1 (second hand)' },
    motion: { source: 'NFL section 7-4, Video Rulebook "Illegal Motion"' },
    motionFromLine: {
      enoughBehind: null,
      source: 'NFL section 7-4, Video Rulebook "Illegal Motion"',
    },
  },
};
