import type { ReadCard } from '../card.ts';
import type { Input } from '../keep.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { same } from './same.ts';

type Field = Exclude<keyof RuledPlay, 'routes'>;
type CardField = keyof ReadCard;

/** What a part of the check has looked at, and how it was: its dependency record. */
export class Reads {
  readonly #play = new Map<Field | 'routes', unknown>();
  readonly #routes = new Map<string, unknown>();
  readonly #card = new Map<CardField, unknown>();
  readonly #rest = new Map<string, unknown>();

  ofPlay(field: Field | 'routes', was: unknown): void {
    this.#play.set(field, was);
  }
  ofRoute(player: string, was: unknown): void {
    this.#routes.set(player, was);
  }
  ofCard(field: CardField, was: unknown): void {
    this.#card.set(field, was);
  }
  ofInput(key: string, was: unknown): void {
    this.#rest.set(key, was);
  }

  /** Whether all of it is as it was. */
  stillHold(on: Input): boolean {
    for (const [field, was] of this.#play) if (!same(on.play[field], was)) return false;
    for (const [player, was] of this.#routes) {
      if (!same(Reflect.get(on.play.routes, player), was)) return false;
    }
    for (const [field, was] of this.#card) {
      if (!('card' in on) || !same(on.card[field], was)) return false;
    }
    for (const [key, was] of this.#rest) if (!same(on[key as keyof Input], was)) return false;
    return true;
  }

  /** What was looked at: `players`, `route h`, `card rows` …; for tests and for whoever wonders. */
  get names(): readonly string[] {
    return [
      ...this.#play.keys(),
      ...[...this.#routes.keys()].map((player) => `route ${player}`),
      ...[...this.#card.keys()].map((field) => `card ${field}`),
      ...this.#rest.keys(),
    ];
  }
}

/**
 * The same input, which writes down what is looked at. A play is told apart by its fields and by
 * each player's route, a card by its fields; whatever else there is counts as looked at.
 */
export function recording<On extends Input>(on: On, reads: Reads): On {
  for (const key of Object.keys(on)) {
    if (key !== 'play' && key !== 'card') reads.ofInput(key, on[key as keyof Input]);
  }
  const play = recordedPlay(on.play, reads);
  return 'card' in on ? { ...on, play, card: recordedCard(on.card, reads) } : { ...on, play };
}

/** Every field of a play, those that may be left out too: one that is not here would never be seen. */
type Whole = { readonly [F in keyof Required<RuledPlay>]: RuledPlay[F] };

/** Own and enumerable, so that a copy with one thing changed looks at all the others, as it does. */
function recordedPlay(play: RuledPlay, reads: Reads): RuledPlay {
  let routes: RuledPlay['routes'] | null = null;
  const read = <F extends Field>(field: F): RuledPlay[F] => {
    reads.ofPlay(field, play[field]);
    return play[field];
  };
  const whole: Whole = {
    get name() {
      return read('name');
    },
    get concept() {
      return read('concept');
    },
    get situation() {
      return read('situation');
    },
    get players() {
      return read('players');
    },
    get routes() {
      routes ??= recordedRoutes(play.routes, reads);
      return routes;
    },
    get motions() {
      return read('motions');
    },
    get cards() {
      return read('cards');
    },
    get protection() {
      return read('protection');
    },
    get drop() {
      return read('drop');
    },
  };
  return whole;
}

/** One player's route is one thing; who has any is looked at by going through them. */
function recordedRoutes(routes: RuledPlay['routes'], reads: Reads): RuledPlay['routes'] {
  const one = (key: string | symbol): void => {
    if (typeof key === 'string') reads.ofRoute(key, Reflect.get(routes, key));
  };
  return new Proxy(routes, {
    get: (target, key) => {
      one(key);
      return Reflect.get(target, key);
    },
    has: (target, key) => {
      one(key);
      return Reflect.has(target, key);
    },
    getOwnPropertyDescriptor: (target, key) => {
      one(key);
      return Reflect.getOwnPropertyDescriptor(target, key);
    },
    ownKeys: (target) => {
      reads.ofPlay('routes', routes);
      return Reflect.ownKeys(target);
    },
  });
}

function recordedCard(card: ReadCard, reads: Reads): ReadCard {
  const read = <F extends CardField>(field: F): ReadCard[F] => {
    reads.ofCard(field, card[field]);
    return card[field];
  };
  return {
    get player() {
      return read('player');
    },
    get head() {
      return read('head');
    },
    get rows() {
      return read('rows');
    },
    get branches() {
      return read('branches');
    },
  };
}
