import { ballX } from '@stemline/football/field';
import { dropOf, dropWords } from '@stemline/football/footwork/drop';
import type { PlayerId } from '@stemline/football/ids';
import type { Motion, Play, Player, Route, Situation, Spot } from '@stemline/football/play';
import { protectionOf } from '@stemline/football/protection';
import { routeInWords } from '@stemline/football/route-words';
import type { RuleCode } from '@stemline/football/rulecode';
import { atSnap } from '@stemline/football/snap';
import { sameJson } from '../json.ts';
import { count, list, named, nowWas, short, span, wayMoved, yd } from './say.ts';

const codeWords: Record<RuleCode, string> = {
  highSchool: 'high school',
  college: 'college',
  professional: 'professional',
};
const spotWords: Record<Spot, string> = {
  left: 'on the left hash',
  middle: 'in the middle',
  right: 'on the right hash',
};
const ordinal = ['first', 'second', 'third', 'fourth'];
const downWords = ({ down, toGain }: Situation): string =>
  `${ordinal[down - 1] ?? down} and ${toGain}`;

const protectionWords = (call: Play['protection']): string => {
  const protection = protectionOf(call);
  return call && protection ? `“${protection.name}”, to the ${call.toward}` : 'not called';
};

const wordsOfDrop = (id: Play['drop']): string => {
  const drop = dropOf(id);
  return drop ? `“${dropWords(drop)}”` : 'as suits his first man';
};

export function describeHead(before: Play, after: Play): string[] {
  const [old, now] = [before.situation, after.situation];
  return [
    ...nowWas('The play is now called', named(before.name), named(after.name)),
    ...nowWas('The concept is now', named(before.concept), named(after.concept)),
    ...nowWas('The rules are now', codeWords[old.code], codeWords[now.code]),
    ...nowWas('The ball is now', spotWords[old.spot], spotWords[now.spot]),
    ...nowWas('It is now', downWords(old), downWords(now)),
    ...nowWas(
      'The protection is now',
      protectionWords(before.protection),
      protectionWords(after.protection),
    ),
    ...nowWas('The passer’s drop is now', wordsOfDrop(before.drop), wordsOfDrop(after.drop)),
    ...nowWas(
      'It is now',
      `${old.toGoal} yd to the goal line`,
      `${now.toGoal} yd to the goal line`,
    ),
  ];
}

/** Past this many players who only moved together, one sentence names them all. */
const manyMoved = 4;

export function describePlayers(before: Play, after: Play): string[] {
  const says: string[] = [];
  const moved: Player[] = [];
  const moves: string[] = [];
  for (const player of after.players) {
    const old = before.players.find((each) => each.id === player.id);
    if (old === undefined) {
      says.push(`${player.label} is new: ${player.position}, number ${player.number}`);
    } else if (old !== player) {
      says.push(...describeInfo(old, player));
      const way = wayMoved(old.at, player.at, ballX(after.situation));
      if (way !== '') {
        moved.push(player);
        moves.push(`${player.label} moved ${way}`);
      }
    }
  }
  for (const old of before.players) {
    if (!after.players.some((player) => player.id === old.id)) says.push(`${old.label} is gone`);
  }
  if (moved.length > manyMoved) {
    return [
      ...says,
      `${count(moved.length, 'player')} stand elsewhere: ${list(moved.map(({ label }) => label))}`,
    ];
  }
  return [...says, ...moves];
}

function describeInfo(old: Player, now: Player): string[] {
  return [
    ...(old.label === now.label ? [] : [`${old.label} is now called ${now.label}`]),
    ...nowWas(`${now.label} is now a`, old.position, now.position),
    ...nowWas(`${now.label} now wears`, `number ${old.number}`, `number ${now.number}`),
  ];
}

export function describeRoute(who: string, id: PlayerId, before: Play, after: Play): string[] {
  const [old, now] = [before.routes[id], after.routes[id]];
  if (now === undefined) return old === undefined ? [] : [`${who}'s route is gone`];
  const name = now.name === '' ? '' : ` ${named(now.name)}`;
  const says = (play: Play, route: Route): string => {
    const man = atSnap(play).find((player) => player.id === id);
    // A route whose man is gone has nowhere to count from but its own beginning.
    return routeInWords(man ?? { at: [0, 0] }, route, ballX(play.situation), yd);
  };
  if (old === undefined) return [`${who} has a route${name}: ${says(after, now)}`];
  if (sameJson(old, now)) return [];
  const isNow = says(after, now);
  // Rounded or sharp has a sentence of its own.
  const was = says(before, { ...old, shape: now.shape });
  const redrawn = !sameJson(old.stem, now.stem) || !sameJson(old.finish, now.finish);
  return [
    ...nowWas(`${who}'s route is now called`, named(old.name), named(now.name)),
    ...(isNow === was ? [] : [`${who}'s route now ${isNow} (before: ${was})`]),
    ...(redrawn && isNow === was ? [`${who}'s route is drawn differently`] : []),
    ...nowWas(`${who} now releases`, releaseWords(old), releaseWords(now)),
    ...nowWas(`${who}'s break is now`, old.shape, now.shape),
  ];
}

export const releaseWords = ({ release: { side, hesitate } }: Pick<Route, 'release'>): string =>
  `${side === 'free' ? 'either way' : side}${hesitate > 0 ? ` after ${short(hesitate)} s` : ''}`;

export function describeMotion(
  who: string,
  old: Motion | undefined,
  now: Motion | undefined,
): string[] {
  if (now === undefined) return old === undefined ? [] : [`${who}'s motion is gone`];
  const end = now.path.at(-1)?.[0] ?? 0;
  const words = now.atSnap === 'moving' ? 'still moving at the snap' : 'set again before the snap';
  if (old === undefined)
    return [`${who} goes in motion ${span(Math.abs(end), Math.abs(end))}, ${words}`];
  if (sameJson(old, now)) return [];
  if (old.atSnap !== now.atSnap) return [`${who} is now ${words}`];
  return [`${who}'s motion is drawn differently`];
}
