import { backs } from '@stemline/football/count';
import { ballX } from '@stemline/football/field';
import type { PlayerId } from '@stemline/football/ids';
import { isLineman, type Player } from '@stemline/football/play';
import { type Helper, protectionOf } from '@stemline/football/protection';
import { atSnap } from '@stemline/football/snap';
import type { ReadCard } from '../card.ts';
import { passerOf } from '../clock/passer-clock.ts';
import { isRoute } from '../reader.ts';
import type { RuledPlay } from '../ruled-play.ts';

/** Somebody who blocks beside the five. */
export interface HelpingMan {
  readonly player: Player;
  /** On the line, and so between his neighbours; a back can step in front of anybody. */
  readonly onLine: boolean;
  /** He goes out on his route when nobody comes for him. */
  readonly releases: boolean;
  /** The card he blocks by: then his key is the only man he takes. */
  readonly card: ReadCard | null;
  /** Called to one side of the ball: +1 right, -1 left; 0 wherever he is needed. */
  readonly side: -1 | 0 | 1;
}

/** Who blocks on a play before anybody is seen. */
export interface Blocking {
  readonly ball: number;
  /** The five, from left to right. */
  readonly line: readonly Player[];
  readonly helpers: readonly HelpingMan[];
  /** The slide as called; null where the line is set the best way before each look. */
  readonly slide: { readonly kind: 'none' | 'half' | 'full'; readonly toward: -1 | 1 } | null;
}

/** Who hesitates as long as this before he goes looks for a rusher first. Seconds. */
const checksFor = 0.5;
/** An end within this of his tackle is attached, and can block. Yards. */
const attached = 2.2;
/** And this near to the line. Yards. */
const nearLine = 2;

/** Null where nothing can be said: fewer or more than five linemen, or nobody to protect. */
export function blockingOf(play: RuledPlay): Blocking | null {
  const players = atSnap(play);
  const line = players
    .filter(({ position }) => isLineman(position))
    .sort((a, b) => a.at[0] - b.at[0]);
  const thrower = passerOf(play);
  if (line.length !== 5 || !thrower) return null;
  const protection = protectionOf(play.protection);
  const toward = play.protection?.toward === 'left' ? -1 : 1;
  const ends = attachedEnds(players, line, thrower.id);
  const ball = ballX(play.situation);
  return {
    ball,
    line,
    helpers: protection
      ? protection.helpers.flatMap((helper) => called(play, helper, ends, toward))
      : [...backs(play).map((player) => ({ player, onLine: false })), ...ends].flatMap((man) =>
          leftIn(play, man),
        ),
    slide: protection ? { kind: protection.slide, toward } : null,
  };
}

interface Man {
  readonly player: Player;
  readonly onLine: boolean;
}

function attachedEnds(
  players: readonly Player[],
  line: readonly Player[],
  thrower: PlayerId,
): readonly Man[] {
  const [first, last] = [line[0], line.at(-1)];
  return players
    .filter(
      ({ id, position, at }) =>
        !isLineman(position) &&
        id !== thrower &&
        at[1] >= -nearLine &&
        first !== undefined &&
        last !== undefined &&
        ((at[0] < first.at[0] && first.at[0] - at[0] <= attached) ||
          (at[0] > last.at[0] && at[0] - last.at[0] <= attached)),
    )
    .map((player) => ({ player, onLine: true }));
}

const cardOf = (play: RuledPlay, { id }: Player): ReadCard | undefined =>
  play.cards.find(({ player }) => player === id);

const blocksBy = (card: ReadCard | undefined): ReadCard | null =>
  card && card.rows.length > 0 && card.branches.some(({ kind }) => kind === 'block') ? card : null;

/** Of nobody called by name: a man without a way to go stays, one who waits looks first. */
function leftIn(play: RuledPlay, { player, onLine }: Man): HelpingMan[] {
  const own = cardOf(play, player);
  const card = blocksBy(own);
  if (!card && own?.branches.some(isRoute)) return [];
  const route = play.routes[player.id];
  if (!card && route && route.release.hesitate < checksFor) return [];
  return [{ player, onLine, releases: route !== undefined, card, side: 0 }];
}

/** A man called by name checks whatever is drawn for him; he goes out when nobody comes. */
function called(
  play: RuledPlay,
  { who, releases }: Helper,
  ends: readonly Man[],
  toward: -1 | 1,
): HelpingMan[] {
  const behind = backs(play);
  const man: Man | undefined =
    who === 'back1' || who === 'back2'
      ? asBack(behind[who === 'back1' ? 0 : 1])
      : ends.find(({ player }) => {
          const isToward = Math.sign(player.at[0] - ballX(play.situation)) === toward;
          return isToward === (who === 'endToward');
        });
  if (!man) return [];
  const card = blocksBy(cardOf(play, man.player));
  // The second of two backs takes the side that the line slides to.
  const side = man.onLine ? 0 : who === 'back2' ? toward : toward === 1 ? -1 : 1;
  return [{ ...man, releases, card, side }];
}

const asBack = (player: Player | undefined): Man | undefined => player && { player, onLine: false };

/** Whether a play throws at all: two men at least have somewhere to go. */
export const isPass = (play: RuledPlay): boolean =>
  play.players.filter(
    (player) =>
      !isLineman(player.position) &&
      (play.routes[player.id] !== undefined || cardOf(play, player)?.branches.some(isRoute)),
  ).length >= 2;
