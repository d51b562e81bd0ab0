import type { Point } from '../geometry.ts';
import { type ReactionId, reactionIdSchema } from '../ids.ts';
import type { Move, Reaction } from '../look.ts';
import type { Player } from '../play.ts';
import { onField, outSign, type Picture, widest } from './picture.ts';
import { type Flank, type Zone, zoneSchema } from './recipe.ts';
import type { Same } from './same.ts';
import { zonePoint, zones } from './zones.ts';

/** Everything that anybody may do before one formation, each made once, on the field's own right and left. */
export class Repertoire {
  readonly picture: Picture;
  readonly #same: Same;
  readonly #rush: Reaction;
  readonly #drops = { strong: new Map<Zone, Reaction>(), weak: new Map<Zone, Reaction>() };
  readonly #walls = new Map<Player, Reaction>();
  readonly #widens = new Map<Player, Reaction>();
  readonly #peels: { [flank in Flank]?: Reaction } = {};

  constructor(picture: Picture, same: Same) {
    this.picture = picture;
    this.#same = same;
    this.#rush = this.#reaction('rush', 'rush', 'rushes the passer', picture.rushTo);
  }

  rush(): Reaction {
    return this.#rush;
  }

  drop(zone: Zone, flank: Flank): Reaction {
    const before = this.#drops[flank].get(zone);
    if (before) return before;
    const { move, says } = zones[zone];
    const now = this.#reaction(zone, move, says, zonePoint(zone, flank, this.picture));
    this.#drops[flank].set(zone, now);
    return now;
  }

  man(receiver: Player): Reaction {
    return this.#reaction('man', 'man', `takes ${receiver.label} man to man`, receiver.at);
  }

  /** A yard inside him, across his way in. */
  wall(receiver: Player): Reaction {
    const before = this.#walls.get(receiver);
    if (before) return before;
    const inside = receiver.at[0] > this.picture.ball ? -1 : 1;
    const to: Point = [receiver.at[0] + inside, 6];
    const now = this.#reaction('wall', 'wall', `walls ${receiver.label} from the inside`, to);
    this.#walls.set(receiver, now);
    return now;
  }

  widen(receiver: Player): Reaction {
    const before = this.#widens.get(receiver);
    if (before) return before;
    const outside = receiver.at[0] > this.picture.ball ? 1 : -1;
    const x = Math.min(Math.max(receiver.at[0] + outside * 3, -widest), widest);
    const now = this.#reaction('widen', 'widen', `widens with ${receiver.label}`, [x, 4]);
    this.#widens.set(receiver, now);
    return now;
  }

  /** An end man who comes off his rush to the back or the flat. */
  peel(flank: Flank): Reaction {
    const { ball, line } = this.picture;
    const to: Point = [ball + outSign(flank) * (line[flank].edge + 5), 2];
    this.#peels[flank] ??= this.#reaction('widen', 'widen', 'peels off to the flat', to);
    return this.#peels[flank];
  }

  sit(at: Point): Reaction {
    return this.#reaction('sit', 'sit', 'sits where he stands', at);
  }

  #reaction(name: ReactionName, move: Move, says: string, to: Point): Reaction {
    const id = ids.get(name) ?? reactionIdSchema.parse(name);
    return this.#same.reaction(id, move, says, onField(to, this.picture));
  }
}

type ReactionName = Zone | 'rush' | 'man' | 'wall' | 'widen' | 'sit';

/** Read once: every reaction of every look on every drag has one of these ids. */
const ids = new Map<ReactionName, ReactionId>(
  ([...zoneSchema.options, 'rush', 'man', 'wall', 'widen', 'sit'] as const).map((name) => [
    name,
    reactionIdSchema.parse(name),
  ]),
);
