import { z } from 'zod';
import type { Situation } from './play.ts';
import type { RuleCode } from './rulecode.ts';

/** A value of a rule book. `season` is the edition it was checked against; books change each year. */
export interface Ruled {
  /** Yards. */
  readonly value: number;
  readonly source: string;
}

/** The markings of one rule code. All lengths in yards; x is measured from the middle of the field. */
export interface Field {
  readonly code: RuleCode;
  readonly season: string;
  /** Sideline to sideline, 160 ft. */
  readonly width: Ruled;
  /** Goal line to goal line, without the end zones. */
  readonly length: Ruled;
  readonly endZone: Ruled;
  /** Hash mark (inbounds line) from the nearer sideline. */
  readonly hashFromSideline: Ruled;
  /** Hash mark from the middle of the field; half the width less the distance from the sideline. */
  readonly hash: number;
  /** The yard-line numbers, as distances from the sideline: their top lies nearer the middle. */
  readonly numbers: { readonly top: number; readonly bottom: number; readonly source: string };
  /** Inside width of the goal, between the uprights. */
  readonly goalPosts: Ruled;
}

const feet = (ft: number, inches = 0): number => (ft + inches / 12) / 3;

/** From the middle of the field to a sideline, the same in all three codes. */
export const halfWidth: number = feet(80);

const common = (source: string) => ({
  width: { value: feet(160), source },
  length: { value: 100, source },
  endZone: { value: 10, source },
});

const hashOf = (fromSideline: number): number => halfWidth - fromSideline;

const fields: Readonly<Record<RuleCode, Field>> = {
  highSchool: {
    code: 'highSchool',
    season: '2019',
    ...common('NFHS 1-1-2'),
    hashFromSideline: { value: feet(53, 4), source: 'NFHS 1-2, field diagram (second hand)' },
    hash: hashOf(feet(53, 4)),
    numbers: { top: 9, bottom: 7, source: 'NFHS 1-2: tops 9 yd from the sideline (second hand)' },
    goalPosts: { value: feet(23, 4), source: 'NFHS 1-3 (second hand)' },
  },
  college: {
    code: 'college',
    season: '2021',
    ...common('NCAA 1-2-1'),
    hashFromSideline: { value: feet(60), source: 'NCAA 1-2-1 (second hand)' },
    hash: hashOf(feet(60)),
    numbers: { top: 9, bottom: 7, source: 'NCAA 1-2-1-i' },
    goalPosts: { value: feet(18, 6), source: 'NCAA 1-2-5 (second hand)' },
  },
  professional: {
    code: 'professional',
    season: '2023',
    ...common('NFL Rule 1-1'),
    hashFromSideline: { value: feet(70, 9), source: 'NFL Rule 1' },
    hash: hashOf(feet(70, 9)),
    numbers: {
      top: 14,
      bottom: 12,
      source: 'NFL Rule 1: bottoms 12 yd from the sideline (second hand)',
    },
    goalPosts: { value: feet(18, 6), source: 'NFL Rule 1' },
  },
};

export const fieldOf = (code: RuleCode): Field => fields[code];

/** Where the ball lies, yards to the offence's right of the middle of the field. */
export function ballX({ code, spot }: Pick<Situation, 'code' | 'spot'>): number {
  const { hash } = fieldOf(code);
  return spot === 'left' ? -hash : spot === 'right' ? hash : 0;
}

/** Parts of the field a staff calls by. Bounds are common practice, no single source. */
export const fieldZoneSchema = z.enum(['backedUp', 'open', 'redZone', 'goalLine']);
export type FieldZone = z.infer<typeof fieldZoneSchema>;

/** The last of its own ten; the opponent's last twenty; the last five. */
export function fieldZone({ toGoal }: Pick<Situation, 'toGoal'>): FieldZone {
  if (toGoal <= 5) return 'goalLine';
  if (toGoal <= 20) return 'redZone';
  return toGoal >= 90 ? 'backedUp' : 'open';
}

/** Down and distance as a staff groups them. Bounds are common practice, no single source. */
export const downGroupSchema = z.enum(['first', 'short', 'medium', 'long']);
export type DownGroup = z.infer<typeof downGroupSchema>;

/** First down is its own group; after it, short is up to 3 yards to gain, medium up to 6. */
export function downGroup({ down, toGain }: Pick<Situation, 'down' | 'toGain'>): DownGroup {
  if (down === 1) return 'first';
  if (toGain <= 3) return 'short';
  return toGain <= 6 ? 'medium' : 'long';
}
