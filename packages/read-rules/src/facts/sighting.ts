import { ballX } from '@stemline/football/field';
import { add, distance, type Point, scale, subtract } from '@stemline/football/geometry';
import type {
  AlignedLook,
  Defender,
  Level,
  Reaction,
  ReactionChoice,
} from '@stemline/football/look';
import type { Play, Player } from '@stemline/football/play';
import type { ReadCard } from '../card.ts';
import { type Decision, decisionOf } from '../decision.ts';
import { insideOf, type KeyResult, keyAmong, scanStart } from '../key.ts';
import { defenderHasRun } from '../pace.ts';
import { isRoute } from '../reader.ts';

/** What holds of a card on its play whatever the defence does. */
export interface Setting {
  readonly play: Play;
  readonly card: ReadCard;
  readonly ball: number;
  /** The man the scan starts over. */
  readonly start: Player;
  /** The man whose room and cushion count: the reader if he runs, else the man he reads over. */
  readonly runner: Player;
  readonly decision: Decision;
  /** How far a defender of a level has come by the decision. Yards. */
  readonly run: Readonly<Record<Level, number>>;
}

/** One card before one look with its reactions chosen: what every fact is measured on. */
export interface Sighting extends Setting {
  readonly look: AlignedLook;
  readonly selected: KeyResult;
  /** The key, when there is exactly one. */
  readonly key: Defender | null;
  readonly reactionOf: (defender: Defender) => Reaction;
  /** Where a defender is at the time of the decision. */
  readonly whereAt: (defender: Defender) => Point;
  /** The same look with other reactions: the key and every way worked out so far are kept. */
  readonly reacting: (reactions: ReactionChoice) => Sighting;
}

/** Null when the man the scan starts over, or the card's own player, is not on the field. */
export function settingOf(play: Play, card: ReadCard): Setting | null {
  const start = scanStart(play, card);
  const runner = runnerOf(play, card, start);
  if (!start || !runner) return null;
  const decision = decisionOf(play, card, runner);
  const run = (level: Level): number =>
    defenderHasRun(play.situation.code, level, decision.seconds);
  return {
    play,
    card,
    ball: ballX(play.situation),
    start,
    runner,
    decision,
    run: { line: run('line'), second: run('second'), corner: run('corner'), deep: run('deep') },
  };
}

export function sightingOf(
  setting: Setting,
  look: AlignedLook,
  reactions: ReactionChoice,
): Sighting {
  const { card, start, ball, runner, decision, run } = setting;
  const selected = keyAmong(card, start, ball, look);
  const known = new Map<Defender, Map<Reaction, Point>>(
    look.defenders.map((defender) => [defender, new Map()]),
  );
  const whereBy = (defender: Defender, reaction: Reaction): Point => {
    const before = known.get(defender)?.get(reaction);
    if (before) return before;
    const to = goesTo(defender, reaction, runner, decision);
    const at = toward(defender.at, to, run[defender.level]);
    known.get(defender)?.set(reaction, at);
    return at;
  };
  const seenWith = (choice: ReactionChoice): Sighting => ({
    ...setting,
    look,
    selected,
    key: selected.kind === 'one' ? selected.defender : null,
    reactionOf: (defender) => chosen(defender, choice),
    whereAt: (defender) => whereBy(defender, chosen(defender, choice)),
    reacting: seenWith,
  });
  return seenWith(reactions);
}

/** The reaction chosen for a defender; the first of his when none of his is named. */
export function chosen(defender: Defender, reactions: ReactionChoice): Reaction {
  const id = reactions[defender.id];
  return (
    defender.reactions.find((reaction) => reaction.id === id) ?? (defender.reactions[0] as Reaction)
  );
}

function runnerOf(play: Play, card: ReadCard, start: Player | null): Player | null {
  if (card.head.key.over === null || !card.branches.some(isRoute)) return start;
  return scanStart(play, {
    ...card,
    head: { ...card.head, key: { ...card.head.key, over: null } },
  });
}

/** A defender this near to where a man assignment leads is on that man. Yards. */
const onHisMan = 0.5;

/** He who has the runner man to man stays a yard over him and keeps his leverage, wherever he goes. */
function goesTo(
  defender: Defender,
  { move, to }: Reaction,
  runner: Player,
  decision: Decision,
): Point {
  if (move !== 'man' || distance(to, runner.at) > onHisMan) return to;
  return [decision.at[0] + defender.at[0] - runner.at[0], decision.at[1] + 1];
}

function toward(from: Point, to: Point, run: number): Point {
  const length = distance(from, to);
  return length <= run ? to : add(from, scale(subtract(to, from), run / length));
}

/** A man on the far side of the scan, within the card's width and depth: the bracket's other man. */
export function sideManOf({ card, look, start, key, ball }: Sighting): Defender | null {
  const { width, depth } = card.head.sideMan;
  const away = card.head.key.direction === 'inside' ? -1 : 1;
  const near = look.defenders
    .filter((defender) => defender.id !== key?.id && defender.at[1] <= depth)
    .map((defender) => ({ defender, out: away * insideOf(start, defender.at[0], ball) }))
    .filter(({ out }) => out > 0 && out <= width)
    .sort((a, b) => a.out - b.out);
  return near[0]?.defender ?? null;
}
