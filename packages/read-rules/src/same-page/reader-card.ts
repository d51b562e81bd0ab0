import type { PlayerId } from '@stemline/football/ids';
import type { AlignedLook, Defender, Reaction, ReactionChoice } from '@stemline/football/look';
import type { Branch, Condition, ReadCard, Row } from '../card.ts';
import { answerOf, meetsValue } from '../evaluate.ts';
import type { FactName } from '../fact-name.ts';
import type { FactValue } from '../facts/declaration.ts';
import {
  asCalled,
  doingOf,
  type Setting,
  Sighting,
  Snapshot,
  settingOf,
} from '../facts/sighting.ts';
import { facts } from '../facts.ts';
import type { KeyResult } from '../key.ts';
import { readerOf } from '../reader.ts';
import { type Answer, askedFacts } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { showsBeforeSnap } from '../witness/bench.ts';

/** What one reader makes of one look and one choice of reactions. */
export interface Reading {
  readonly reader: ReaderCard;
  readonly key: KeyResult;
  /** What the key does; null where there is not one key. */
  readonly keyDoes: Reaction | null;
  readonly row: Answer;
  readonly branch: Branch | null;
  /** The rows that fit and disagree. */
  readonly torn: readonly Row[];
}

/** A row with the places of what it asks about among the facts of its card. */
interface AskingRow {
  readonly row: Row;
  readonly asks: readonly { readonly fact: number; readonly condition: Condition }[];
}

/** One card of the play with what holds of it before every look; each reading is worked out once. */
export class ReaderCard {
  readonly card: ReadCard;
  /** His label on the drawing. */
  readonly who: string;
  readonly setting: Setting;
  /** The facts its rows ask about: those that show before the snap, then the others. */
  readonly early: readonly FactName[];
  readonly later: readonly FactName[];
  /** What somebody beside the key does can change an answer. */
  readonly hangsOnOthers: boolean;
  readonly rows: readonly AskingRow[];
  readonly #looks = new WeakMap<AlignedLook, BeforeLook>();

  constructor(setting: Setting, who: string) {
    const { card } = setting;
    const names = askedFacts(card);
    this.card = card;
    this.who = who;
    this.setting = setting;
    this.early = names.filter(showsBeforeSnap);
    this.later = names.filter((name) => !showsBeforeSnap(name));
    this.hangsOnOthers = this.later.some((name) => facts[name].hangsOn === 'neighbours');
    const order = [...this.early, ...this.later];
    this.rows = card.rows.map((row) => ({
      row,
      asks: row.conditions.map((condition) => ({
        fact: order.indexOf(condition.fact),
        condition,
      })),
    }));
  }

  before(look: AlignedLook): BeforeLook {
    const known = this.#looks.get(look);
    if (known) return known;
    const now = new BeforeLook(this, look);
    this.#looks.set(look, now);
    return now;
  }
}

/** One card before one look: whom it finds, and what it comes to by what anybody does. */
export class BeforeLook {
  readonly reader: ReaderCard;
  readonly look: AlignedLook;
  readonly key: KeyResult;
  /** The key's place in the look; -1 where there is not one key. */
  readonly keyMan: number;
  readonly #snapshot: Snapshot;
  readonly #early: (FactValue | null)[];
  #called: Reading | null = null;
  /** By man and reaction, as far as was asked. */
  readonly #others: (Reading | undefined)[][] = [];

  constructor(reader: ReaderCard, look: AlignedLook) {
    this.reader = reader;
    this.look = look;
    this.#snapshot = new Snapshot(reader.setting, look);
    this.key = this.#snapshot.selected;
    this.keyMan = this.key.kind === 'one' ? look.defenders.indexOf(this.key.defender) : -1;
    const sighting = this.sighting(asCalled);
    this.#early = reader.early.map((name) => facts[name].measure(sighting));
  }

  sighting(doing: readonly number[]): Sighting {
    return new Sighting(this.#snapshot, doing);
  }

  /** Everybody does as he is called. */
  called(): Reading {
    this.#called ??= this.#read(asCalled);
    return this.#called;
  }

  /** One man makes another of his reactions, everybody else does as he is called. */
  when(man: number, does: number): Reading {
    if (does === 0 || man < 0 || (man !== this.keyMan && !this.reader.hangsOnOthers))
      return this.called();
    let his = this.#others[man];
    if (!his) {
      his = [];
      this.#others[man] = his;
    }
    let reading = his[does];
    if (!reading) {
      const doing = new Array<number>(this.look.defenders.length).fill(0);
      doing[man] = does;
      reading = this.#read(doing);
      his[does] = reading;
    }
    return reading;
  }

  /** Each man makes the reaction of this number (`doingOf`). */
  reading(doing: readonly number[]): Reading {
    if (!this.reader.hangsOnOthers) return this.when(this.keyMan, doing[this.keyMan] ?? 0);
    let only = -1;
    for (let man = 0; man < doing.length; man++) {
      if (doing[man] === 0) continue;
      if (only >= 0) return this.#read(doing);
      only = man;
    }
    return this.when(only, doing[only] ?? 0);
  }

  #read(doing: readonly number[]): Reading {
    const { reader, key } = this;
    const known = reader.later.length > 0 ? this.#early.slice() : this.#early;
    if (reader.later.length > 0) {
      const sighting = this.sighting(doing);
      for (const name of reader.later) known.push(facts[name].measure(sighting));
    }
    const fits: Row[] = [];
    for (const { row, asks } of reader.rows) {
      if (!allMet(asks, known)) continue;
      fits.push(row);
      // The first that fits settles it.
      if (reader.card.head.policy === 'first') break;
    }
    const answer = answerOf(reader.card, key, fits);
    const keyDoes =
      key.kind === 'one' ? (key.defender.reactions[doing[this.keyMan] ?? 0] as Reaction) : null;
    return { reader, key, keyDoes, ...answer };
  }
}

function allMet(asks: AskingRow['asks'], known: readonly (FactValue | null)[]): boolean {
  for (const { fact, condition } of asks)
    if (!meetsValue(condition, known[fact] ?? null)) return false;
  return true;
}

/** The readers of a play: whoever throws first, then in the order of the cards. */
export interface Readers {
  readonly all: readonly ReaderCard[];
  /** Whose card says where the ball goes; null where no card of a quarterback throws. */
  readonly passer: ReaderCard | null;
}

/** A card without rows reads nothing. */
export function readersAmong(play: RuledPlay, cards: readonly ReaderCard[]): Readers {
  const reading = cards.filter(({ card }) => card.rows.length > 0);
  const passer =
    reading.find(
      ({ card }) =>
        readerOf(play, card) === 'passer' && card.branches.some(({ kind }) => kind === 'target'),
    ) ?? null;
  return {
    passer,
    all: passer ? [passer, ...reading.filter((one) => one !== passer)] : reading,
  };
}

/** Every card of a play that can be read. */
export const readerCards = (play: RuledPlay): readonly ReaderCard[] =>
  play.cards.flatMap((card) => readerCard(play, card) ?? []);

/** Null for a card whose player, or the man its scan starts over, is not on the field. */
export function readerCard(play: RuledPlay, card: ReadCard): ReaderCard | null {
  const setting = settingOf(play, card);
  const who = play.players.find(({ id }) => id === card.player)?.label;
  return setting && who !== undefined ? new ReaderCard(setting, who) : null;
}

/** Must agree with `evaluate`; it measures no more than the card asks about. */
export const readingOf = (
  reader: ReaderCard,
  look: AlignedLook,
  reactions: ReactionChoice,
): Reading => reader.before(look).reading(doingOf(look, reactions));

export const keysOf = (key: KeyResult): readonly Defender[] =>
  key.kind === 'one' ? [key.defender] : key.kind === 'tie' ? key.defenders : [];

/** Whom a quarterback's answer throws to. */
export const targetOf = ({ branch }: Pick<Reading, 'branch'>): PlayerId | null =>
  branch?.kind === 'target' ? branch.player : null;
