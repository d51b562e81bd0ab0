import type { PlayerId } from '@stemline/football/ids';
import type { Play, Player } from '@stemline/football/play';
import type { RouteBranch } from '../card.ts';
import { branchClock, drawnClock, type ReceiverClock } from '../clock/receiver-clock.ts';
import { afresh, type Keep } from '../keep.ts';

/** The clocks of everybody who may run somewhere on a play, each put to his way once. */
export class Clocks {
  readonly #play: Play;
  readonly #keep: Keep;
  readonly #alone = new Map<PlayerId, Play>();
  readonly #drawn = new Map<PlayerId, ReceiverClock | null>();
  readonly #branches = new Map<RouteBranch, ReceiverClock>();

  constructor(play: Play, keep: Keep = afresh) {
    this.#play = play;
    this.#keep = keep;
  }

  /** A play on which there is nothing but one man where he is at the snap, and his route. */
  alone(player: Player): Play {
    const { id } = player;
    const known = this.#alone.get(id);
    if (known) return known;
    const { situation, routes } = this.#play;
    const route = routes[id];
    // How somebody runs hangs on the field, and not on the down.
    const { code, spot, toGoal } = situation;
    const now = this.#keep.same<Play>(`alone ${id}`, {
      name: '',
      concept: '',
      situation: { code, spot, toGoal, down: 1, toGain: 10 },
      players: [player],
      routes: route ? { [id]: route } : {},
      motions: {},
    });
    this.#alone.set(id, now);
    return now;
  }

  /** On his drawn route; null where none is drawn. `player` stands where he is at the snap. */
  drawn(player: Player): ReceiverClock | null {
    const { id } = player;
    const known = this.#drawn.get(id);
    if (known !== undefined) return known;
    const now = this.#keep.of(`clock ${id}`, onRoute, this.alone(player));
    this.#drawn.set(id, now);
    return now;
  }

  /** On a branch of his card. */
  on(player: Player, branch: RouteBranch): ReceiverClock {
    const known = this.#branches.get(branch);
    if (known) return known;
    const part = `clock ${player.id} ${branch.id}`;
    const now = this.#keep.of(part, onBranch, this.alone(player), branch);
    this.#branches.set(branch, now);
    return now;
  }
}

const manOf = ({ players }: Play): Player => players[0] as Player;
const onRoute = (alone: Play): ReceiverClock | null => drawnClock(alone, manOf(alone));
const onBranch = (alone: Play, branch: RouteBranch): ReceiverClock =>
  branchClock(alone, manOf(alone), branch);
