import type { Figure } from '../figure.ts';
import { ceilingFigures } from './ceiling.ts';
import { type Home, openHome } from './home.ts';
import { joinFigures } from './joining.ts';
import { interleaved, leaguePace, loadFigures, meetingPace } from './meeting.ts';
import { memoryFigures } from './memory.ts';
import { installPeers, type Side, sideNames, startSide } from './sides.ts';
import { twoFigures } from './two.ts';

const parts = ['meeting', 'league', 'ceiling', 'join', 'memory', 'two'] as const;
type Part = (typeof parts)[number];

/**
 * Rooms beside their peers: the same loads, servers and load in processes of their own, loopback only.
 * Takes about fifteen minutes; `only` names the parts to be run.
 */
export async function roomsBench(
  say: (sentence: string) => void,
  only: readonly string[] = [],
): Promise<Figure[]> {
  const wanted = (part: Part): boolean => only.length === 0 || only.includes(part);
  if (parts.slice(0, 5).some(wanted)) installPeers();
  const home = await openHome();
  const sides: Side[] = [];
  const figures: Figure[] = [];
  try {
    if (parts.slice(0, 4).some(wanted)) {
      for (const name of sideNames)
        sides.push(name === 'Stemline' ? await home.start() : await startSide(name));
      figures.push(...(await loads(home, sides, wanted, say)));
    }
    await Promise.all(sides.splice(0).map((side) => side.stop()));
    if (wanted('memory')) figures.push(...(await memoryFigures(home, sideNames, say)));
    if (wanted('two')) figures.push(...(await twoFigures(home, say)));
    return figures;
  } finally {
    await Promise.all(sides.map((side) => side.stop()));
    await home.close();
  }
}

async function loads(
  home: Home,
  sides: readonly Side[],
  wanted: (part: Part) => boolean,
  say: (sentence: string) => void,
): Promise<Figure[]> {
  const figures: Figure[] = [];
  const options = { runs: 3, say };
  if (wanted('meeting')) {
    const runs = await interleaved(home, sides, meetingPace, options);
    figures.push(...loadFigures('staff meeting', runs, { goals: true, pace: meetingPace }));
  }
  if (wanted('league')) {
    const runs = await interleaved(home, sides, leaguePace, options);
    figures.push(...loadFigures('league', runs, { goals: false, pace: leaguePace }));
  }
  if (wanted('ceiling')) figures.push(...(await ceilingFigures(home, sides, options)));
  if (wanted('join')) figures.push(...(await joinFigures(home, sides, say)));
  return figures;
}
