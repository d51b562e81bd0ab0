import type { LookTraits } from '@stemline/football/look';

const fronts: Record<LookTraits['front'], string> = { even: 'even front', odd: 'odd front' };
const shells: Record<LookTraits['shell'], string> = {
  zero: 'nobody deep',
  oneHigh: 'one high',
  twoHigh: 'two high',
};
const coverages: Record<LookTraits['coverage'], string> = {
  man: 'man',
  zone: 'zone',
  match: 'match',
};

/** What a look declares of itself, in a few words. */
export const traitWords = ({ front, shell, coverage }: LookTraits): string =>
  [fronts[front], shells[shell], coverages[coverage]].join(', ');
