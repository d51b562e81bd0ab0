import type { Defender, LookTraits } from '@stemline/football/look';
import { atLevel, type Bring, type Draft, moving, showing } from './draft.ts';
import type { Sighting } from './sighting.ts';

const deepMen: Readonly<Record<LookTraits['shell'], number>> = { zero: 0, oneHigh: 1, twoHigh: 2 };

/** Depths of a safety who stays back and of one who has come down. Yards. Common practice, no single source. */
const back = 12;
const down = 7;

const shellOf = (value: boolean | string): LookTraits['shell'] | null =>
  value === 'zero' || value === 'oneHigh' || value === 'twoHigh' ? value : null;

/** Brings safeties down, or sends second-level men back, until as many are deep as the shell shows. */
export const bringShell: Bring = (sighting, draft, side) =>
  side.kind !== 'values'
    ? []
    : side.values.flatMap((value) => {
        const shell = shellOf(value);
        return shell ? [showing(withDeepMen(sighting, draft, deepMen[shell]), { shell })] : [];
      });

function withDeepMen({ look, ball, key, runner }: Sighting, draft: Draft, wanted: number): Draft {
  const deep = look.defenders.filter(({ level }) => level === 'deep');
  const nearRunner = (defender: Defender): number => Math.abs(defender.at[0] - runner.at[0]);
  if (deep.length >= wanted) {
    const goDown = [...deep].sort((a, b) => nearRunner(b) - nearRunner(a)).slice(wanted);
    const rolled = goDown.reduce(
      (moved, man) => atLevel(moved, man, 'second', [man.at[0], down]),
      draft,
    );
    const stays = deep.filter((man) => !goDown.includes(man));
    const [only] = stays;
    return wanted === 1 && only ? atLevel(rolled, only, 'deep', [ball / 2, back]) : rolled;
  }
  const goBack = look.defenders
    .filter(({ level, id }) => level === 'second' && id !== key?.id)
    .sort((a, b) => b.at[1] - a.at[1] || nearRunner(b) - nearRunner(a))
    .slice(0, wanted - deep.length);
  return goBack.reduce((moved, man) => atLevel(moved, man, 'deep', [man.at[0], back]), draft);
}

/** Sends a deep man to the deep middle, or every deep man to his half. */
export const bringMiddle: Bring = ({ look, ball }, draft, side) => {
  if (side.kind !== 'values') return [];
  const deep = look.defenders.filter(({ level }) => level === 'deep');
  return side.values.flatMap((value) => {
    if (value === 'open') {
      const parted = deep.reduce(
        (moved, man) => moving(moved, man, 'drop', [man.at[0] > ball ? 13 : -13, 16]),
        draft,
      );
      return [showing(parted, { middle: 'open' })];
    }
    return deep.map((man) =>
      showing(moving(draft, man, 'drop', [ball / 2, 18]), { middle: 'closed' }),
    );
  });
};
