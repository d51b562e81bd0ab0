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

  #pick(look: AlignedLook, doing: readonly number[]): Picked {
    const seconds = new Map<Defender, number>();
    const arrives = (rusher: Defender): number => {
      const known = seconds.get(rusher) ?? arrival(this.#code, rusher, this.#spot, this.#inLine);
      seconds.set(rusher, known);
      return known;
    };
    const helpers = this.#helpers;
    const own = this.#cards.map((reader) => reader && blocksByCard(reader, look, doing));
    const mayTake = (helper: HelpingMan, rusher: Defender): boolean =>
      !helper.card || own[helpers.indexOf(helper)] === rusher.id;
    const picked = pickUp(this.#front, look, doing, arrives, mayTake);
    let first: FreeRusher | null = null;
    for (const rusher of picked.free) {
      const at = arrives(rusher);
      if (!first || at < first.arrives) first = { rusher, arrives: at };
    }
    return { pickUp: picked, first };
  }
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
