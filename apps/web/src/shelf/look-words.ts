import type { LookTraits } from '@stemline/football/look';
import type { Job, LookRecipe } from '@stemline/football/looks/recipe';

export const frontWords: Record<LookTraits['front'], string> = {
  even: 'Even front',
  odd: 'Odd front',
};
export const shellWords: Record<LookTraits['shell'], string> = {
  zero: 'No one deep',
  oneHigh: 'One high',
  twoHigh: 'Two high',
};
export const middleWords: Record<LookTraits['middle'], string> = {
  open: 'Middle open',
  closed: 'Middle closed',
};
export const coverageWords: Record<LookTraits['coverage'], string> = {
  man: 'Man',
  zone: 'Zone',
  match: 'Match',
};

/** "Even front, two high, middle open, zone": a look at a glance. */
export const traitWords = (traits: LookTraits): string =>
  [
    frontWords[traits.front],
    ...[shellWords[traits.shell], middleWords[traits.middle], coverageWords[traits.coverage]].map(
      (words) => words.toLowerCase(),
    ),
  ].join(', ');

const rushes = (job: Job): boolean => job.kind === 'rush';

/** How many the call sends, before any rule about the formation changes it. */
export const rushersOf = (recipe: LookRecipe): number =>
  recipe.defenders.filter((rule) => rushes(rule.does.otherwise)).length;
