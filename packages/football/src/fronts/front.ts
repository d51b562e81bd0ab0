import type { LookTraits } from '../look.ts';
import type { Anchor, DefenderRule, Stand, When } from '../looks/recipe.ts';
import { defender, type RuleParts, rush, technique } from '../looks/rule.ts';

/** A front: who rushes from it, and where the men behind it stand who belong to the coverage. */
export interface Front {
  readonly parity: LookTraits['front'];
  readonly rushers: readonly DefenderRule[];
  readonly mike: Anchor;
  readonly will: Anchor;
  /** The man outside the strong end: a nickel back or a Sam, by the front's personnel. */
  readonly overhang: {
    readonly label: string;
    /** Where the front itself wants him, before the coverage is asked. */
    readonly rather: readonly { readonly when: When; readonly at: Stand }[];
    readonly stand: Anchor;
  };
}

/** Depth of a linebacker in the box. Common practice, no single source. */
export const boxDepth = 4.5;

/** A man on the line who rushes. */
export const rusher = (
  id: string,
  label: string,
  stand: Anchor,
  rather: NonNullable<RuleParts['rather']> = [],
): DefenderRule => defender(id, { label, level: 'line', stand, rather, does: rush });

/** A Sam on the line over a tight end, as long as no third receiver needs him out there. */
export const onTightEnd: Front['overhang']['rather'] = [
  { when: { tightEnd: 'strong', strong: { from: 0, to: 2 } }, at: technique('strong', '9') },
];
