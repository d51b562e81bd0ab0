import type { Defender } from '@stemline/football/look';

const places: Readonly<Record<number, readonly string[]>> = {
  2: ['left', 'right'],
  3: ['left', 'middle', 'right'],
};

/** What each man is called in a list: two who carry one letter are told apart by where they stand, seen by the offense. */
export function menNamed(defenders: readonly Defender[]): ReadonlyMap<Defender['id'], string> {
  return new Map(
    defenders.map((man) => {
      const alike = defenders
        .filter(({ label }) => label === man.label)
        .sort((a, b) => a.at[0] - b.at[0]);
      if (alike.length === 1) return [man.id, man.label];
      const at = alike.indexOf(man);
      const place = places[alike.length]?.[at] ?? `${at + 1} from the left`;
      return [man.id, `${man.label} (${place})`];
    }),
  );
}
