import { point } from '@stemline/testkit/cards';
import { type Edit, edit, makeEdit } from '@stemline/testkit/edits';
import { type Forged, forged, forgedUpdate } from '@stemline/testkit/forged';
import { Gate } from '@stemline/testkit/gate';
import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import * as encoding from 'lib0/encoding';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import type { BoardDocument } from './document.ts';
import type { EditScope } from './edit-scope.ts';
import { mapRoots, newDocument, rootsOf } from './schema.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 300_000 });

const start = createBoardState(handPlay(), [
  { type: 'paragraph', content: [{ type: 'text', text: 'Eyes up, win inside.' }] },
  { type: 'paragraph', content: [{ type: 'text', text: 'Else break out.' }] },
]);

/** One value under a key, with links of somebody's choice. */
function oneValue(
  { client, clock }: Y.ID,
  left: Y.ID | null,
  right: Y.ID | null,
  root: string,
  key: string,
): Uint8Array {
  const encoder = encoding.createEncoder();
  for (const n of [1, 1, client, clock]) encoding.writeVarUint(encoder, n);
  encoding.writeUint8(encoder, 8 | (left ? 128 : 0) | (right ? 64 : 0) | 32);
  for (const link of [left, right]) {
    if (!link) continue;
    encoding.writeVarUint(encoder, link.client);
    encoding.writeVarUint(encoder, link.clock);
  }
  if (!left && !right) {
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, root);
    encoding.writeVarString(encoder, key);
  }
  encoding.writeVarUint(encoder, 1);
  encoding.writeAny(encoder, 7);
  encoding.writeVarUint(encoder, 0);
  return encoding.toUint8Array(encoder);
}

/** All that a board says, whoever holds it. */
function told(ydoc: Y.Doc): unknown {
  const { maps, notes } = rootsOf(ydoc);
  return [...mapRoots.map((root) => maps[root].toJSON()), notes.toString()];
}
const opened = (state: Uint8Array): Y.Doc => {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  return ydoc;
};

type Step =
  | { who: 0 | 1; does: Edit | 'undo' | 'redo' | 'undoNotes' | 'sends' | 'hears' }
  | { who: 'forger'; items: readonly Forged[] };

/** A coach on a line of his own to the gate; nothing passes before he sends or hears. */
class Coach {
  readonly board: BoardDocument;
  readonly name: string;
  readonly sent: Uint8Array[] = [];
  readonly heard: Uint8Array[] = [];
  readonly #notes: Y.UndoManager;

  constructor(name: string, client: number) {
    this.name = name;
    this.board = coachAt(start, client);
    this.#notes = new Y.UndoManager(this.board.notes, { captureTimeout: 0 });
    this.board.ydoc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'net') this.sent.push(update);
    });
  }

  does(what: Edit | 'undo' | 'redo' | 'undoNotes'): void {
    if (what === 'undo') this.board.undo.undo();
    else if (what === 'redo') this.board.undo.redo();
    else if (what === 'undoNotes') this.#notes.undo();
    else makeEdit(this.board, what);
  }

  hear(count = this.heard.length): void {
    for (const update of this.heard.splice(0, count)) Y.applyUpdate(this.board.ydoc, update, 'net');
  }
}

/** A staff before a gate; whoever forges is one of it, and may do anything that an editor may. */
function meeting(clients: readonly [number, number], forgers: readonly number[], scope: EditScope) {
  const gate = new Gate(start);
  const replay = opened(start);
  const coaches = [new Coach('ann', clients[0]), new Coach('ben', clients[1])] as const;
  const offer = (member: string, update: Uint8Array, within: EditScope) => {
    const verdict = gate.offer(member, update, within);
    if (verdict.ok && verdict.news) {
      Y.applyUpdate(replay, verdict.update);
      for (const coach of coaches) if (coach.name !== member) coach.heard.push(verdict.update);
    }
    return verdict;
  };
  const send = (coach: Coach, count = coach.sent.length): void => {
    for (const update of coach.sent.splice(0, count)) {
      const verdict = offer(coach.name, update, { kind: 'all' });
      if (!verdict.ok) expect.unreachable(`${coach.name} is refused: ${verdict.why}`);
    }
  };
  return {
    coaches,
    step(step: Step): void {
      if (step.who === 'forger') {
        offer('eve', forgedUpdate(opened(gate.state), step.items, forgers), scope);
        return;
      }
      const coach = coaches[step.who];
      if (step.does === 'sends') send(coach, 1);
      else if (step.does === 'hears') coach.hear(1);
      else coach.does(step.does);
    },
    /** Everybody sends and hears everything; then all replicas of the board are told. */
    settled(): Record<string, unknown> {
      for (const coach of coaches) send(coach);
      for (const coach of coaches) coach.hear();
      const [ann, ben] = coaches;
      return {
        gate: told(gate.shadow.ydoc),
        ann: told(ann.board.ydoc),
        ben: told(ben.board.ydoc),
        replay: told(replay),
        joiner: told(opened(gate.state)),
      };
    },
  };
}

const who = fc.constantFrom(0 as const, 1 as const);
/** Where the forger is at work as well. */
const [busy] = [...rootsOf(opened(start)).maps.spots.keys()].sort();
const nearby: fc.Arbitrary<Edit> = fc.oneof(
  point().map(
    (at): Edit => ({ do: 'movePlayers', moves: [{ player: asPlayerId(busy ?? ''), at }] }),
  ),
  fc.nat({ max: 30 }).map((at): Edit => ({ do: 'type', at: at * 2, text: 'xy' })),
);
const honest: fc.Arbitrary<Step> = fc.record({
  who,
  does: fc.oneof(
    { weight: 3, arbitrary: edit() },
    { weight: 4, arbitrary: nearby },
    fc.constantFrom('undo' as const, 'redo' as const, 'undoNotes' as const, 'undoNotes' as const),
    { weight: 4, arbitrary: fc.constantFrom('sends' as const, 'hears' as const) },
  ),
});
const hostile: fc.Arbitrary<Step> = forged().map((items) => ({ who: 'forger', items }));
const clientIds = fc.uniqueArray(fc.integer({ min: 2, max: 2 ** 31 }), {
  minLength: 4,
  maxLength: 4,
}) as fc.Arbitrary<[number, number, number, number]>;

describe('links that no editor makes', () => {
  it('R110 five updates that nobody sees anything of do not take a value from who comes later', () => {
    const gate = new Gate(start);
    const value = rootsOf(gate.shadow.ydoc).maps.meta._map.get('version')?.id;
    if (!value) throw new Error('a board has a version');
    const [low, high] = [2_000, 3_000];
    const at = (client: number, clock: number) => Y.createID(client, clock);
    const written: [Y.ID, Y.ID | null, Y.ID | null][] = [
      [at(high, 0), null, value],
      [at(high, 1), at(high, 0), value],
      [at(low, 0), at(high, 1), at(high, 1)],
      [at(high, 2), null, null],
      [at(high, 3), at(high, 1), null],
    ];
    const codes = written.map(([id, left, right]) => {
      const update = oneValue(id, left, right, 'meta', 'version');
      const verdict = gate.offer('eve', update, { kind: 'positions', positions: ['WR'] });
      return verdict.ok ? 'ok' : verdict.code;
    });
    expect(codes).toEqual(['malformed', 'pending', 'pending', 'pending', 'pending']);
    const joiner = opened(gate.state);
    expect(rootsOf(joiner).maps.meta.get('version')).toBe(
      rootsOf(gate.shadow.ydoc).maps.meta.get('version'),
    );
  });

  it('R110 whatever is taken of a forger, all replicas of the board agree', () => {
    fc.assert(
      fc.property(
        clientIds,
        fc.array(fc.oneof(honest, { weight: 2, arbitrary: hostile }), {
          minLength: 10,
          maxLength: 60,
        }),
        ([ann, ben, eve, other], steps) => {
          const all = meeting([ann, ben], [eve, other], { kind: 'all' });
          for (const step of steps) all.step(step);
          const { gate, ...others } = all.settled();
          for (const [name, seen] of Object.entries(others)) expect(seen, name).toEqual(gate);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('R110 two honest coaches are never refused, whatever they do and take back meanwhile', () => {
    fc.assert(
      fc.property(clientIds, fc.array(honest, { maxLength: 60 }), ([ann, ben], steps) => {
        const all = meeting([ann, ben], [], { kind: 'all' });
        for (const step of steps) all.step(step);
        const { gate, ...others } = all.settled();
        for (const seen of Object.values(others)) expect(seen).toEqual(gate);
      }),
      { numRuns: 200 },
    );
  });
});
