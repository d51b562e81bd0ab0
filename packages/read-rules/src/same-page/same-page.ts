import type { DefenderId, LookId, PlayerId } from '@stemline/football/ids';
import type { AlignedLook, Defender, ReactionChoice } from '@stemline/football/look';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import { branchNames } from '../evaluate.ts';
import { chosen, doingOf } from '../facts/sighting.ts';
import type { Answer } from '../reasons.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { malformed, spoils } from '../well-formed.ts';
import { answerName, explain, nameOf } from './explain.ts';
import { type MarginOf, marginsOf } from './margins.ts';
import { type OffPage, offPage, type Pair, pairsOf } from './off-page.ts';
import {
  keysOf,
  type Readers,
  type Reading,
  readerCards,
  readersAmong,
  targetOf,
} from './reader-card.ts';
import { isCalled, type Ways, waysBefore } from './ways.ts';

/** What everybody who reads comes to before every look of the shelf and every reaction of the men read. */
export interface SamePage {
  /** Columns: whoever throws first. */
  readonly readers: readonly { readonly player: PlayerId; readonly label: string }[];
  /** The quarterback whose card throws; null where there is none, and nothing can be off the page. */
  readonly passer: PlayerId | null;
  readonly looks: readonly LookOnPage[];
}

export interface LookOnPage {
  readonly look: LookId;
  readonly name: string;
  /** Men who do each thing they may. */
  readonly varied: readonly ManOnPage[];
  /** Men who are read as well but do only what they are called to (see `ways.ts` for the bounds). */
  readonly held: readonly ManOnPage[];
  /** One for every combination of what the varied men may do, the called one first. */
  readonly cells: readonly Cell[];
}

export interface ManOnPage {
  readonly defender: DefenderId;
  readonly name: string;
}

export interface Cell {
  readonly reactions: ReactionChoice;
  /** What each varied man does, in their order: "drops to the hook". */
  readonly does: readonly string[];
  readonly isCalled: boolean;
  /** One for each reader, in their order. */
  readonly readings: readonly CellReading[];
  /** Whom the quarterback throws to. */
  readonly target: PlayerId | null;
  /** Seconds by which the ball passes the nearest defender; null: nothing is thrown, or nobody is near. */
  readonly margin: { readonly seconds: number; readonly by: ManOnPage } | null;
  readonly off: readonly OffPage[];
  /** The cell in one sentence. */
  readonly says: string;
}

export interface CellReading {
  /** The key; two men where he cannot tell, nobody where he finds none. */
  readonly keys: readonly ManOnPage[];
  readonly row: Answer;
  /** "row 2", "when in doubt". */
  readonly rowName: string;
  /** What it leads to, as the players say it; null: no answer, or more than one. */
  readonly branch: string | null;
  /** Between which of them he is torn, since rows that fit disagree; else none. */
  readonly torn: readonly string[];
}

/** Pure, and never throws: a card that has no meaning is left out (`well-formed.ts` tells it). */
export function samePage(play: RuledPlay, shelf: readonly LookRecipe[]): SamePage {
  const faults = malformed(play);
  const isDrawn = faults.every(({ path }) => path[0] === 'cards');
  const cards = play.cards.filter((card) => !faults.some((fault) => spoils(fault, card)));
  if (!isDrawn) return { readers: [], passer: null, looks: [] };
  const sound = { ...play, cards };
  const readers = readersAmong(sound, readerCards(sound));
  const page = { play: sound, readers, pairs: pairsOf(sound, readers), margins: marginsOf(sound) };
  return {
    readers: readers.all.map(({ card, who }) => ({ player: card.player, label: who })),
    passer: readers.passer?.card.player ?? null,
    looks:
      readers.all.length === 0 ? [] : shelf.map((recipe) => lookOn(page, alignLook(recipe, sound))),
  };
}

interface Page {
  readonly play: RuledPlay;
  readonly readers: Readers;
  readonly pairs: readonly Pair[];
  readonly margins: MarginOf;
}

function lookOn(page: Page, look: AlignedLook): LookOnPage {
  const ways = waysBefore(page.readers.all, look);
  const man = (defender: Defender): ManOnPage => manOn(look, defender);
  return {
    look: look.id,
    name: look.name,
    varied: ways.varied.map(man),
    held: ways.held.map(man),
    cells: ways.choices.map((reactions) => cellOf(page, look, ways, reactions)),
  };
}

function cellOf(
  { play, readers, pairs, margins }: Page,
  look: AlignedLook,
  ways: Ways,
  reactions: ReactionChoice,
): Cell {
  const doing = doingOf(look, reactions);
  const readings = readers.all.map((reader) => reader.before(look).reading(doing));
  const passer = readings.find(({ reader }) => reader === readers.passer) ?? null;
  const off = passer ? offPage(play, pairs, passer, readings, look, doing) : [];
  const margin = passer && margins(passer, readings, look, doing);
  return {
    reactions,
    does: ways.varied.map((man) => chosen(man, reactions).says),
    isCalled: isCalled(ways, reactions),
    readings: readings.map((reading) => cellReading(look, reading)),
    target: passer && targetOf(passer),
    margin: margin && { seconds: margin.seconds, by: manOn(look, margin.defender) },
    off,
    says: explain(play, look, passer, readings, off, margin),
  };
}

const cellReading = (look: AlignedLook, reading: Reading): CellReading => ({
  keys: keysOf(reading.key).map((man) => manOn(look, man)),
  row: reading.row,
  rowName: answerName(reading),
  branch: reading.branch?.name ?? null,
  torn: branchNames(reading.reader.card, reading.torn),
});

const manOn = (look: AlignedLook, man: Defender): ManOnPage => ({
  defender: man.id,
  name: nameOf(look, man),
});
