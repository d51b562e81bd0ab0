import { frame } from '@stemline/protocol/message';
import { type Forged, forgedUpdate } from '@stemline/testkit/forged';
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';
import { answer, ask, change, presence } from '../support/raw.ts';
import type { Random } from './random.ts';

/** What a hostile frame is made of. */
export interface Prey {
  /** The board as the attacker last saw it. */
  state: Uint8Array;
  /** Client ids of honest people. */
  others: readonly number[];
  /** Updates of honest people, as they were broadcast. */
  heard: readonly Uint8Array[];
}

export interface Hostile {
  kind: string;
  bytes: Uint8Array;
  /** Must end the connection, must not, or may. */
  ends: 'always' | 'never' | 'perhaps';
}

type Maker = (random: Random, prey: Prey) => Omit<Hostile, 'kind'>;

const ends = (bytes: Uint8Array): Omit<Hostile, 'kind'> => ({ bytes, ends: 'always' });
const passes = (bytes: Uint8Array): Omit<Hostile, 'kind'> => ({ bytes, ends: 'never' });
const perhaps = (bytes: Uint8Array): Omit<Hostile, 'kind'> => ({ bytes, ends: 'perhaps' });

/** What a client with its own id would send after doing this on the board. */
function written(prey: Prey, id: number, act: (ydoc: Y.Doc) => void): Uint8Array {
  const ydoc = new Y.Doc();
  Y.applyUpdate(ydoc, prey.state);
  ydoc.clientID = id;
  const before = Y.encodeStateVector(ydoc);
  act(ydoc);
  const update = Y.encodeStateAsUpdate(ydoc, before);
  ydoc.destroy();
  return update;
}
const freshId = (random: Random): number => random.between(1, 2 ** 31);
/** A player whom nobody moves meanwhile: a write that is outrun has no effect, and passes. */
const target = 'LG';

/** What is made at random may come to an edit that its author may make: not of the player others aim at. */
function movesTarget(prey: Prey, update: Uint8Array): boolean {
  const ydoc = new Y.Doc();
  Y.applyUpdate(ydoc, prey.state);
  const spots = ydoc.getMap('spots');
  const before = spots.get(target);
  try {
    Y.applyUpdate(ydoc, update);
  } catch {
    // Nor does the server read it.
    return false;
  }
  return spots.get(target) !== before;
}

const spot = (random: Random, prey: Prey, value: unknown, player = target): Uint8Array =>
  change(written(prey, freshId(random), (ydoc) => ydoc.getMap('spots').set(player, value)));

function nested(depth: number): unknown {
  let value: unknown = 1;
  for (let i = 0; i < depth; i++) value = i % 2 ? [value] : { a: value };
  return value;
}

/** One struct at a clock of the attacker's choice. */
function structAt(client: number, clock: number): Uint8Array {
  const encoder = encoding.createEncoder();
  for (const n of [1, 1, client, clock]) encoding.writeVarUint(encoder, n);
  encoding.writeUint8(encoder, 4 | 0b0010_0000);
  encoding.writeVarUint(encoder, 1);
  encoding.writeVarString(encoder, 'meta');
  encoding.writeVarString(encoder, 'name');
  encoding.writeVarString(encoder, 'x');
  encoding.writeVarUint(encoder, 0);
  return encoding.toUint8Array(encoder);
}

function withForgedLinks(random: Random, prey: Prey): Uint8Array {
  const place = (): number | null => (random.next() < 0.4 ? null : random.between(0, 1000));
  const items = Array.from(
    { length: random.between(1, 4) },
    (): Forged => ({
      content: random.of(['value', 'value', 'text', 'deleted']),
      key: random.between(0, 2),
      left: place(),
      right: place(),
      near: random.next() < 0.5,
      by: random.between(0, 2),
    }),
  );
  const ydoc = new Y.Doc();
  Y.applyUpdate(ydoc, prey.state);
  const update = forgedUpdate(ydoc, items, [freshId(random), freshId(random)]);
  ydoc.destroy();
  return update;
}

const other = (random: Random, { others }: Prey): number => random.of(others);

/** Every way of attack by name. */
const attacks: Record<string, Maker> = {
  garbage: (random) => perhaps(random.bytes(random.between(1, 200))),
  emptyFrame: () => ends(new Uint8Array()),
  cutShort: (random, prey) => {
    const whole = spot(random, prey, [1, -2]);
    return ends(whole.subarray(0, random.between(1, whole.byteLength - 1)));
  },
  flippedBits: (random, prey) => {
    // What comes of it may be an edit that its author may make: not on a player others aim at.
    const whole =
      random.next() < 0.5 ? spot(random, prey, [1, -2], 'RT') : change(random.of(prey.heard));
    const bytes = Uint8Array.from(whole);
    for (let i = random.between(1, 4); i > 0; i--) {
      const at = random.between(2, bytes.length);
      bytes[at] = (bytes[at] ?? 0) ^ (1 << random.between(0, 8));
    }
    return perhaps(bytes);
  },
  wrongType: (random, prey) =>
    ends(
      spot(random, prey, random.of<unknown>([7, 'x', null, [1], [1, 'y'], [1, 2, 3], {}, true])),
    ),
  notANumber: (random, prey) =>
    ends(spot(random, prey, [random.of([Number.NaN, Number.POSITIVE_INFINITY, 1e308]), -1])),
  forgedLinks: (random, prey) => {
    let update = withForgedLinks(random, prey);
    while (movesTarget(prey, update)) update = withForgedLinks(random, prey);
    return perhaps(change(update));
  },
  prototype: (random, prey) =>
    ends(spot(random, prey, JSON.parse('{"__proto__":{"0":1,"1":2},"length":2}'))),
  deepNesting: (random, prey) => ends(spot(random, prey, nested(random.between(50, 1000)))),
  giantString: (random, prey) =>
    ends(
      change(
        written(prey, freshId(random), (ydoc) =>
          ydoc.getMap('meta').set('name', 'x'.repeat(random.between(5_000, 100_000))),
        ),
      ),
    ),
  sharedType: (random, prey) =>
    ends(spot(random, prey, random.next() < 0.5 ? new Y.Map() : new Y.Text('x'))),
  asList: (random, prey) =>
    ends(change(written(prey, freshId(random), (ydoc) => ydoc.getArray('spots').push(['x'])))),
  newRoot: (random, prey) =>
    ends(change(written(prey, freshId(random), (ydoc) => ydoc.getMap('contraband').set('x', 1)))),
  hidden: (random) => ends(change(structAt(freshId(random), random.between(1, 1000)))),
  hugeClock: (random) => ends(change(structAt(freshId(random), Number.MAX_SAFE_INTEGER))),
  foreignId: (random, prey) =>
    ends(
      change(
        written(prey, other(random, prey), (ydoc) => ydoc.getMap('meta').set('name', 'forged')),
      ),
    ),
  deleteAll: (random, prey) =>
    ends(
      change(
        written(prey, freshId(random), (ydoc) =>
          ydoc.transact(() => {
            for (const root of ['meta', 'players', 'spots']) ydoc.getMap(root).clear();
          }),
        ),
      ),
    ),
  outOfScope: (random, prey) =>
    ends(change(written(prey, freshId(random), (ydoc) => ydoc.getMap('spots').set('Q', [0, -6])))),
  replay: (random, prey) => passes(change(random.of(prey.heard))),
  // In it may be an edit of his own that is not durable yet: then it is another's work, and refused.
  wholeBoardAgain: (_random, prey) => perhaps(answer(prey.state)),
  nothing: () => passes(answer(Uint8Array.of(0, 0))),
  asks: () => passes(ask()),
  badVector: (random) => ends(ask(Uint8Array.of(200, 255, 255, 255, random.between(128, 256)))),
  serversOwn: (random) =>
    ends(Uint8Array.of(random.of([frame.hello, frame.saved, frame.refused]), 0)),
  spoofed: (random, prey) =>
    ends(
      presence([
        { id: other(random, prey), clock: 2 ** 50, state: { member: { name: 'Ada Holm' } } },
      ]),
    ),
  spoofedLeave: (random, prey) =>
    passes(presence([{ id: other(random, prey), clock: 2 ** 50, state: null }])),
  oldEcho: (random, prey) =>
    passes(presence([{ id: other(random, prey), clock: 0, state: { cursor: [1, 2] } }])),
  presenceOfNoShape: (random) =>
    ends(
      presence([{ id: freshId(random), clock: 1, state: random.of<unknown>([1, 'x', [1], true]) }]),
    ),
  giantPresence: (random) =>
    ends(presence([{ id: freshId(random), clock: 1, state: { x: 'x'.repeat(5_000) } }])),
};

const names = Object.keys(attacks);
const quiet = names.filter((name) => /^(replay|nothing|oldEcho|spoofedLeave)$/.test(name));

/** Some that must leave no trace, then one that may end the connection. */
export function volley(random: Random, prey: Prey): Hostile[] {
  const make = (kind: string): Hostile => {
    const maker = attacks[kind];
    if (!maker) throw new RangeError(`no attack ${kind}`);
    return { kind, ...maker(random, prey) };
  };
  const before = Array.from({ length: random.between(3, 15) }, () => make(random.of(quiet)));
  return [...before, make(random.of(names))];
}
