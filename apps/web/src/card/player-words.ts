import type { Level } from '@stemline/football/look';
import { levelSchema } from '@stemline/football/look';
import type { Play } from '@stemline/football/play';
import type { Branch, Finish, ReadCard } from '@stemline/read-rules/card';
import { both } from '@stemline/read-rules/words';
import { askedFacts, branchWords, breakDepthWords, labelOf, yd } from './card-words.ts';

/** A card in the words of who plays by it; the working board keeps every number of it. */

const menOf: Record<Level, { one: string; many: string }> = {
  line: { one: 'lineman', many: 'linemen' },
  second: { one: 'linebacker', many: 'linebackers' },
  corner: { one: 'corner', many: 'corners' },
  deep: { one: 'safety', many: 'safeties' },
};

/** The man from whom is counted; mostly the one who reads it. */
const overWhom = (play: Play, { player, head: { key } }: ReadCard): string =>
  key.over === null || key.over === player ? 'you' : labelOf(play, key.over);

/** "Key: first man from head-up on you to 8 yd inside, no deeper than 8 yd (safeties don't count)." */
export function keyForPlayer(play: Play, card: ReadCard): string {
  const { key } = card.head;
  const [only, ...more] = key.levels;
  const first = only && more.length === 0 ? menOf[only].one : 'man';
  const others = levelSchema.options.filter((level) => !key.levels.includes(level));
  const not =
    first !== 'man' || others.length === 0
      ? ''
      : ` (${both(others.map((level) => menOf[level].many))} don't count)`;
  return `Key: first ${first} from head-up on ${overWhom(play, card)} to ${yd(key.reach)} ${key.direction}, no deeper than ${yd(key.maxDepth)}${not}.`;
}

/** Who counts as the man on the other side; nothing where no row asks for him. */
export function sideManForPlayer(play: Play, card: ReadCard): string {
  if (!askedFacts(card).includes('manOutside')) return '';
  const { key, sideMan } = card.head;
  const side = key.direction === 'inside' ? 'outside' : 'inside';
  return `Man on the other side: within ${yd(sideMan.width)} ${side} of ${overWhom(play, card)}, no deeper than ${yd(sideMan.depth)}.`;
}

/** How a break is run, by its angle off straight upfield; a coach says it so (common practice, no single source). */
function wayOfBreak(degrees: number): string {
  if (degrees < 35) return 'going upfield';
  if (degrees < 85) return 'gaining depth';
  if (degrees <= 92) return 'flat';
  return degrees <= 115 ? 'coming back toward the quarterback a little' : 'coming back to the ball';
}

function finishForPlayer(finish: Finish, depth: string): string {
  switch (finish.kind) {
    case 'in':
    case 'out':
      return `break ${finish.kind} at ${depth}, ${wayOfBreak(finish.angle)}`;
    case 'sit':
      return `sit down at ${depth}`;
    case 'on':
      return `run on past ${depth}`;
    case 'path':
      return `break at ${depth} as drawn`;
  }
}

/** What a branch asks of him, as he is told. */
export function branchForPlayer(play: Play, branch: Branch): string {
  if (branch.kind === 'target') return `throw to ${labelOf(play, branch.player)}`;
  if (branch.kind === 'block') return branchWords(play, branch);
  const { release, decideBy, eyes } = branch;
  return [
    finishForPlayer(branch.finish, breakDepthWords(branch)),
    `decide by ${yd(decideBy)}`,
    release.side === 'free' ? '' : `release ${release.side}`,
    release.hesitate > 0 ? 'hesitate first' : '',
    eyes > 0 ? 'eyes to the quarterback out of the break' : '',
  ]
    .filter((part) => part !== '')
    .join(', ');
}
