import { exposedIn } from '@stemline/read-rules/protection/exposure';
import type { Protected, Protecting } from '@stemline/read-rules/protection/protect';
import { ballOutWords } from './protection-words.ts';

/** How a protection does before a look, the best first. The last two are what the rule check finds. */
export type Outcome = 'blocked' | 'ballFirst' | 'hot' | 'card' | 'late';

export const outcomeWords: Record<Outcome, string> = {
  blocked: 'all blocked',
  ballFirst: 'ball is out first',
  hot: 'hot throw in time',
  card: 'card throws too late',
  late: 'nobody in time',
};

/** Whether the coach has something to settle. */
export const isTrouble = (outcome: Outcome): boolean => outcome === 'card' || outcome === 'late';

export function outcomeOf({ answers }: Protecting, seen: Protected): Outcome {
  if (!seen.first) return 'blocked';
  const [exposed] = exposedIn(seen);
  if (exposed) return exposed.cause === 'card' ? 'card' : 'late';
  return answers.passer.drop.ballOut.to <= seen.first.arrives ? 'ballFirst' : 'hot';
}

const s = (seconds: number): string => `${seconds.toFixed(1)} s`;

/** The same in a sentence or two. */
export function outcomeSays(protecting: Protecting, seen: Protected): string {
  const { drop, player } = protecting.answers.passer;
  const { first, outlets, thrown, pickUp } = seen;
  if (!first)
    return pickUp.rushers === 0 ? 'Nobody comes.' : `All ${pickUp.rushers} who come are blocked.`;
  const others = pickUp.free.length - 1;
  const free = `${first.rusher.label}${others > 0 ? ` and ${others} more` : ''} ${
    others > 0 ? 'are' : 'is'
  } free; he is on ${player.label} at ${s(first.arrives)}`;
  const [quickest] = outlets;
  const hot = quickest
    ? `${quickest.player.label} (${quickest.way}) can be thrown to at ${s(quickest.ready)}`
    : 'nobody can be thrown to';
  switch (outcomeOf(protecting, seen)) {
    case 'blocked':
      return '';
    case 'ballFirst':
      return `${free}. The ball is out ${ballOutWords(drop)} after the snap, before he is there.`;
    case 'hot':
      return `${free}, before the ball is out (${ballOutWords(drop)}). Hot: ${hot}.`;
    case 'card':
      return `${free}. ${player.label}'s card throws to ${thrown?.player.label}, who is ready at ${s(
        thrown?.ready ?? 0,
      )}: too late. ${hot}.`;
    case 'late':
      return `${free}, before the ball is out (${ballOutWords(drop)}), and ${hot}.`;
  }
}
