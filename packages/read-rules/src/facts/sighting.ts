import { receivers } from '@stemline/football/count';
import { ballX } from '@stemline/football/field';
import { distance, type Point } from '@stemline/football/geometry';
import type {
  AlignedLook,
  Defender,
  Level,
  Reaction,
  ReactionChoice,
} from '@stemline/football/look';
import type { Play, Player } from '@stemline/football/play';
import { ballAt, passer } from '@stemline/football/snap';
import type { ReadCard } from '../card.ts';
import { type Decision, decisionOf } from '../decision.ts';
import { insideOf, type KeyResult, keyAmong, scanStart } from '../key.ts';
import { defenderHasRun } from '../pace.ts';
import { isRoute } from '../reader.ts';

/** What holds of a card on its play whatever the defence does. Plain data: two that say the same are the same. */
export interface Setting {
  readonly play: Pick<Play, 'situation'>;
  readonly card: ReadCard;
  readonly ball: number;
  /** The man the scan starts over. */
  readonly start: Player;
  /** Receivers out of the backfield on his side, himself included. */
  readonly receiversThisSide: number;
  /** The man whose room and cushion count: the reader if he runs, else the man he reads over. */
  readonly runner: Player;
  readonly decision: Decision;
  /** How far a defender of a level has come by the decision. Yards. */
  readonly run: Readonly<Record<Level, number>>;
  /** Where a man who comes is going: the passer, or five yards behind the ball. */
  readonly rushTo: Point;
}

/** Null when the man the scan starts over, or the card's own player, is not on the field. */
export function settingOf(play: Play, card: ReadCard): Setting | null {
  const start = scanStart(play, card);
  const runner = runnerOf(play, card, start);
  if (!start || !runner) return null;
  const { situation } = play;
  const decision = decisionOf(play, card, runner);
  const ball = ballX(situation);
  return {
    play: { situation },
    card,
    ball,
    start,
    receiversThisSide: receiversBeside(play, start, ball),
    runner,
    decision,
    run: {
      line: defenderHasRun(situation.code, 'line', decision.seconds),
      second: defenderHasRun(situation.code, 'second', decision.seconds),
      corner: defenderHasRun(situation.code, 'corner', decision.seconds),
      deep: defenderHasRun(situation.code, 'deep', decision.seconds),
    },
    rushTo: passer(play.players, ballAt(play))?.at ?? [ball, -5],
  };
}

function receiversBeside(play: Play, start: Player, ball: number): number {
  const { left, right } = receivers(play);
  if (left.some(({ id }) => id === start.id)) return left.length;
  if (right.some(({ id }) => id === start.id)) return right.length;
  return (start.at[0] > ball ? right : left).length;
}

/** One card before one look, whatever is then done: whom it finds, and how far everybody can get. */
export class Snapshot {
  readonly setting: Setting;
  readonly look: AlignedLook;
  readonly selected: KeyResult;
  /** By defender and reaction, as far as was asked. */
  readonly #places: (Point | undefined)[][] = [];

  constructor(setting: Setting, look: AlignedLook) {
    this.setting = setting;
    this.look = look;
    this.selected = keyAmong(setting.card, setting.start, setting.ball, look);
  }

  /** Where a defender is at the time of the decision by one of his reactions. */
  place(man: number, does: number): Point {
    let his = this.#places[man];
    if (!his) {
      his = [];
      this.#places[man] = his;
    }
    let at = his[does];
    if (!at) {
      at = this.#goneTo(this.look.defenders[man] as Defender, does);
      his[does] = at;
    }
    return at;
  }

  #goneTo(defender: Defender, does: number): Point {
    const { runner, decision, run } = this.setting;
    const to = goesTo(defender, defender.reactions[does] as Reaction, runner, decision);
    return toward(defender.at, to, run[defender.level]);
  }
}

/** One card before one look with its reactions chosen: what every fact is measured on. */
export class Sighting implements Setting {
  readonly play: Setting['play'];
  readonly card: ReadCard;
  readonly ball: number;
  readonly start: Player;
  readonly receiversThisSide: number;
  readonly runner: Player;
  readonly decision: Decision;
  readonly run: Setting['run'];
  readonly rushTo: Point;
  readonly look: AlignedLook;
  readonly selected: KeyResult;
  /** The key, when there is exactly one. */
  readonly key: Defender | null;
  readonly #snapshot: Snapshot;
  /** Which of his reactions each defender makes, in the order of the look. */
  readonly #doing: readonly number[];

  constructor(snapshot: Snapshot, doing: readonly number[]) {
    const { setting } = snapshot;
    this.play = setting.play;
    this.card = setting.card;
    this.ball = setting.ball;
    this.start = setting.start;
    this.receiversThisSide = setting.receiversThisSide;
    this.runner = setting.runner;
    this.decision = setting.decision;
    this.run = setting.run;
    this.rushTo = setting.rushTo;
    this.look = snapshot.look;
    this.selected = snapshot.selected;
    this.key = this.selected.kind === 'one' ? this.selected.defender : null;
    this.#snapshot = snapshot;
    this.#doing = doing;
  }

  /** What the man of this place in the look does. */
  doing(man: number): Reaction {
    return (this.look.defenders[man] as Defender).reactions[this.#doing[man] ?? 0] as Reaction;
  }

  /** Where the man of this place in the look is at the time of the decision. */
  place(man: number): Point {
    return this.#snapshot.place(man, this.#doing[man] ?? 0);
  }

  reactionOf(defender: Defender): Reaction {
    return this.doing(this.look.defenders.indexOf(defender));
  }

  /** Where a defender is at the time of the decision. */
  whereAt(defender: Defender): Point {
    return this.place(this.look.defenders.indexOf(defender));
  }

  /** The same look with other reactions: the key and every way worked out so far are kept. */
  reacting(reactions: ReactionChoice): Sighting {
    return new Sighting(this.#snapshot, doingOf(this.look, reactions));
  }
}

export const sightingOf = (
  setting: Setting,
  look: AlignedLook,
  reactions: ReactionChoice,
): Sighting => new Sighting(new Snapshot(setting, look), doingOf(look, reactions));

/** Everybody does as he is called. */
export const asCalled: readonly number[] = [];

/** Which of his reactions each man of a look makes; nothing at all where all do as they are called. */
export function doingOf({ defenders }: AlignedLook, reactions: ReactionChoice): readonly number[] {
  let doing: number[] | null = null;
  for (let man = 0; man < defenders.length; man++) {
    const defender = defenders[man] as Defender;
    const does = indexOfChosen(defender, reactions);
    if (does === 0) continue;
    doing ??= new Array<number>(defenders.length).fill(0);
    doing[man] = does;
  }
  return doing ?? asCalled;
}

function indexOfChosen({ id, reactions }: Defender, choice: ReactionChoice): number {
  const named = choice[id];
  if (named === undefined) return 0;
  for (let i = 0; i < reactions.length; i++) if (reactions[i]?.id === named) return i;
  return 0;
}

/** The reaction chosen for a defender; the first of his when none of his is named. */
export const chosen = (defender: Defender, reactions: ReactionChoice): Reaction =>
  defender.reactions[indexOfChosen(defender, reactions)] as Reaction;

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
  if (length <= run) return to;
  const share = run / length;
  return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
}

/** A man on the far side of the scan, within the card's width and depth: the bracket's other man. */
export function sideManOf({ card, look, start, key, ball }: Sighting): Defender | null {
  const { width, depth } = card.head.sideMan;
  const away = card.head.key.direction === 'inside' ? -1 : 1;
  let nearest: Defender | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const defender of look.defenders) {
    if (defender.id === key?.id || defender.at[1] > depth) continue;
    const out = away * insideOf(start, defender.at[0], ball);
    if (!(out > 0 && out <= width && out < least)) continue;
    nearest = defender;
    least = out;
  }
  return nearest;
}
