import { Gate } from '@stemline/testkit/gate';
import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import { sender } from '@stemline/testkit/sender';
import * as encoding from 'lib0/encoding';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import type { Verdict } from './verdict.ts';
import { TooMuchWork, withinWork } from './work.ts';

const state = createBoardState(handPlay());

type Struct = (encoder: encoding.Encoder) => void;
/** An update written by hand: structs of each client from clock 0, and ranges to be deleted of client 1000. */
function update(
  clients: readonly { client: number; structs: readonly Struct[] }[],
  deleted: readonly number[] = [],
): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, clients.length);
  for (const { client, structs } of clients) {
    for (const n of [structs.length, client, 0]) encoding.writeVarUint(encoder, n);
    for (const struct of structs) struct(encoder);
  }
  encoding.writeVarUint(encoder, deleted.length > 0 ? 1 : 0);
  if (deleted.length > 0) for (const n of [1000, deleted.length]) encoding.writeVarUint(encoder, n);
  for (const clock of deleted) for (const n of [clock, 1]) encoding.writeVarUint(encoder, n);
  return encoding.toUint8Array(encoder);
}

const [asAny, asString, after, ofKey] = [8, 4, 128, 32];
const head = (encoder: encoding.Encoder, root: string): void => {
  encoding.writeVarUint(encoder, 1);
  encoding.writeVarString(encoder, root);
};
const value =
  (values: readonly unknown[]): Struct =>
  (encoder) => {
    encoding.writeUint8(encoder, asAny | ofKey);
    head(encoder, 'meta');
    encoding.writeVarString(encoder, 'name');
    encoding.writeVarUint(encoder, values.length);
    for (const each of values) encoding.writeAny(encoder, each as string);
  };
const text =
  (written: string): Struct =>
  (encoder) => {
    encoding.writeUint8(encoder, asString);
    head(encoder, 'notes');
    encoding.writeVarString(encoder, written);
  };
const letterAfter =
  (clock: number): Struct =>
  (encoder) => {
    encoding.writeUint8(encoder, asString | after);
    for (const n of [1000, clock]) encoding.writeVarUint(encoder, n);
    encoding.writeVarString(encoder, 'x');
  };
const nameAfter =
  (clock: number): Struct =>
  (encoder) => {
    encoding.writeUint8(encoder, asAny | after);
    for (const n of [1000, clock, 1]) encoding.writeVarUint(encoder, n);
    encoding.writeAny(encoder, 'x');
  };
const upTo = <T>(n: number, make: (i: number) => T): T[] =>
  Array.from({ length: n }, (_, i) => make(i));
/** A chain of client 1000, and as many of client 2000 that each claim to know it up to another place. */
const forks = (
  first: Struct,
  next: (clock: number) => Struct,
  known: (i: number) => number,
  n: number,
) =>
  update([
    { client: 2000, structs: [next(n), ...upTo(n, (i) => next(known(i)))] },
    { client: 1000, structs: [first, ...upTo(n, next)] },
  ]);

describe('an update that makes work of itself', () => {
  const every = (n: number) => upTo(n, (i) => 2 * i);
  it.each<[string, Uint8Array]>([
    ['many at one place of the notes', forks(text('x'), letterAfter, () => 0, 4_000)],
    ['many, each a place further on', forks(text('x'), letterAfter, (i) => i, 4_000)],
    [
      'many values of a key, each known to the next only',
      forks(value(['x']), nameAfter, (i) => i, 4_000),
    ],
    [
      'many first values of one key',
      update([{ client: 1000, structs: upTo(4_000, () => value(['x'])) }]),
    ],
    [
      'a long list of values, every other gone',
      update([{ client: 1000, structs: [value(upTo(40_000, () => 1))] }], every(20_000)),
    ],
    [
      'a long text, every other letter gone',
      update([{ client: 1000, structs: [text('x'.repeat(200_000))] }], every(20_000)),
    ],
  ])('%s: refused before it is done', (_, bytes) => {
    const gate = new Gate(state);
    const verdict: Verdict = gate.offer('eve', bytes);
    expect(verdict).toMatchObject({ ok: false, code: 'malformed', shadow: 'dirty' });
    expect(verdict.ok || verdict.why).toContain('more work than any edit makes');
    expect(gate.state).toEqual(new Gate(state).state);
  });

  it('an honest one of a long time offline is none, though others wrote the same as often', () => {
    const gate = new Gate(state);
    const [ann, ben] = [sender(101, state), sender(102, state)];
    for (let i = 0; i < 400; i++) {
      for (const { coach } of [ann, ben])
        for (const player of ['X', 'Y', 'Z', 'H', 'F'])
          coach.movePlayer(asPlayerId(player), [(i % 40) - 20, -1 - (i % 6)]);
    }
    for (const [member, { sent }] of [
      ['ann', ann],
      ['ben', ben],
    ] as const)
      expect(gate.offer(member, Y.mergeUpdates(sent))).toMatchObject({ ok: true, news: true });
  });

  it('counts only what is within, and lets go of it when it throws', () => {
    const act = () =>
      Y.applyUpdate(
        new Y.Doc(),
        forks(text('x'), letterAfter, () => 0, 100),
      );
    expect(() => withinWork(1_000, 0, act)).toThrow(TooMuchWork);
    expect(act).not.toThrow();
    expect(() => withinWork(1_000_000, 0, act)).not.toThrow();
  });
});
