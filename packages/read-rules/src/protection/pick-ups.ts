import type { Point } from '@stemline/football/geometry';
import type { DefenderId } from '@stemline/football/ids';
import type { AlignedLook, Defender } from '@stemline/football/look';
import type { Player } from '@stemline/football/play';
import type { RuleCode } from '@stemline/football/rulecode';
import { asCalled } from '../facts/sighting.ts';
import type { ReaderCard } from '../same-page/reader-card.ts';
import { arrival } from './arrival.ts';
import type { Blocking, HelpingMan } from './blockers.ts';
import { type Front, frontOf, type PickUp, pickUp } from './pick-up.ts';

/** A rusher whom nobody has. */
export interface FreeRusher {
  readonly rusher: Defender;
  /** When he is on the passer, seconds from the snap. */
  readonly arrives: number;
}

/** Who has whom before one look, and the free man who is there first; null where everybody is blocked. */
interface Picked {
  readonly pickUp: PickUp;
  readonly first: FreeRusher | null;
}

/** Who has whom where these men come, and each card says to take this man. */
interface Known {
  readonly rushers: readonly Defender[];
  readonly own: readonly (DefenderId | null)[];
  readonly picked: Picked;
}
/** More than any shelf sends. */
const mostKnown = 100;

/** Who has whom before any look. */
export const pickUpsOf = (
  code: RuleCode,
  blocking: Blocking,
  spot: Point,
  cards: readonly (ReaderCard | null)[],
): PickUps => new PickUps(code, blocking, spot, cards);

/** Each look as called is worked out once. */
class PickUps {
  readonly #code: RuleCode;
  readonly #front: Front;
  readonly #helpers: readonly HelpingMan[];
  /** Where the passer throws from. */
  readonly #spot: Point;
  /** The card that each helper blocks by. */
  readonly #cards: readonly (ReaderCard | null)[];
  /** Those on the line, in whose way a free man is. */
  readonly #inLine: readonly Player[];
  readonly #called = new WeakMap<AlignedLook, Picked>();
  readonly #arrivals = new WeakMap<Defender, number>();
  readonly #known: Known[] = [];

  constructor(
    code: RuleCode,
    blocking: Blocking,
    spot: Point,
    cards: readonly (ReaderCard | null)[],
  ) {
    this.#code = code;
    this.#front = frontOf(blocking);
    this.#helpers = blocking.helpers;
    this.#spot = spot;
    this.#cards = cards;
    this.#inLine = [
      ...blocking.line,
      ...blocking.helpers.flatMap(({ player, onLine }) => (onLine ? [player] : [])),
    ];
  }

  /** Each man makes the reaction of this number (`doingOf`). */
  before(look: AlignedLook, doing: readonly number[]): Picked {
    if (doing !== asCalled) return this.#pick(look, doing);
    const known = this.#called.get(look) ?? this.#pick(look, doing);
    this.#called.set(look, known);
    return known;
  }

  /** Looks that send the same men are picked up alike, as long as no card says otherwise. */
  #pick(look: AlignedLook, doing: readonly number[]): Picked {
    const rushers = rushersOf(look, doing);
    const own = this.#cards.map((reader) => reader && blocksByCard(reader, look, doing));
    for (const known of this.#known)
      if (areSame(known.rushers, rushers) && areSame(known.own, own)) return known.picked;
    const picked = this.#worked(rushers, own);
    if (this.#known.length >= mostKnown) this.#known.length = 0;
    this.#known.push({ rushers, own, picked });
    return picked;
  }

  #worked(rushers: readonly Defender[], own: readonly (DefenderId | null)[]): Picked {
    const helpers = this.#helpers;
    const mayTake = (helper: HelpingMan, rusher: Defender): boolean =>
      !helper.card || own[helpers.indexOf(helper)] === rusher.id;
    const arrives = (rusher: Defender): number => this.#arrives(rusher);
    const picked = pickUp(this.#front, rushers, arrives, mayTake);
    let first: FreeRusher | null = null;
    for (const rusher of picked.free) {
      const at = arrives(rusher);
      if (!first || at < first.arrives) first = { rusher, arrives: at };
    }
    return { pickUp: picked, first };
  }

  #arrives(rusher: Defender): number {
    const known =
      this.#arrivals.get(rusher) ?? arrival(this.#code, rusher, this.#spot, this.#inLine);
    this.#arrivals.set(rusher, known);
    return known;
  }
}

/** From left to right. */
const rushersOf = ({ defenders }: AlignedLook, doing: readonly number[]): readonly Defender[] =>
  defenders
    .filter(({ reactions }, man) => reactions[doing[man] ?? 0]?.move === 'rush')
    .sort((a, b) => a.at[0] - b.at[0]);

function areSame(a: readonly unknown[], b: readonly unknown[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The man whom his card tells him to block: his key, where it comes to a block. */
function blocksByCard(
  reader: ReaderCard,
  look: AlignedLook,
  doing: readonly number[],
): DefenderId | null {
  const { key, branch } = reader.before(look).reading(doing);
  return branch?.kind === 'block' && key.kind === 'one' ? key.defender.id : null;
}
