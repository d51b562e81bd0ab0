import { Gate } from '@stemline/testkit/gate';
import { asPlayerId, handPlay } from '@stemline/testkit/plays';
import { sender as senderFrom, updateOf as updateFrom } from '@stemline/testkit/sender';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import * as encoding from 'lib0/encoding';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState, creatorClient } from './create.ts';
import type { EditScope } from './edit-scope.ts';
import { judge } from './judge.ts';
import {
  maxDeletionsOfUpdate,
  maxStoredOfPlayers,
  maxStructsOfUpdate,
  maxWritersOfMember,
  maxWritersOfUpdate,
} from './limits.ts';
import { mapRoots } from './schema.ts';
import type { Verdict } from './verdict.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const H = asPlayerId('H');
const state = createBoardState(handPlay(), [
  { type: 'paragraph', content: [{ type: 'text', text: 'Eyes up' }] },
]);

const sender = (client: number, from = state) => senderFrom(client, from);
const updateOf = (write: (ydoc: Y.Doc) => void, client = 666, from = state) =>
  updateFrom(write, client, from);
const codeOf = (verdict: Verdict): string => (verdict.ok ? 'ok' : verdict.code);

describe('the measured attacks', () => {
  it('hidden pending update: an update whose dependency is missing is refused, so no later one lets it in', () => {
    const gate = new Gate(state);
    const { coach, sent } = sender(666);
    coach.setName('Innocent');
    coach.ydoc.getMap('players').set('H', { evil: true });
    const [innocent, evil] = sent as [Uint8Array, Uint8Array];
    expect(codeOf(gate.offer('eve', evil))).toBe('pending');
    expect(gate.shadow.ydoc.store.pendingStructs).toBeNull();
    expect(codeOf(gate.offer('eve', innocent))).toBe('ok');
    expect(gate.shadow.projection.board.play.name).toBe('Innocent');
    expect(gate.shadow.projection.board.play.players).toHaveLength(11);
  });

  it('pendingDs: a deletion of what is not there yet is refused', () => {
    const gate = new Gate(state);
    const { coach, sent } = sender(666);
    coach.setRoute(H, {
      release: { side: 'free', hesitate: 0 },
      stem: [[0, 5]],
      finish: [],
      shape: 'sharp',
      name: '',
    });
    coach.clearRoute(H);
    const deletion = sent[1] as Uint8Array;
    expect(Y.decodeUpdate(deletion).structs).toHaveLength(0);
    expect(codeOf(gate.offer('eve', deletion))).toBe('pending');
    expect(gate.shadow.ydoc.store.pendingDs).toBeNull();
  });

  it('anonymous deletion: deleting without a struct of his own is judged by what goes', () => {
    const update = updateOf((ydoc) => {
      ydoc.getMap('players').delete('LT');
      ydoc.getMap('spots').delete('LT');
    });
    expect(Y.decodeUpdate(update).structs).toHaveLength(0);
    const gate = new Gate(state);
    const verdict = gate.offer('eve', update, { kind: 'positions', positions: ['WR', 'TE'] });
    expect(verdict).toMatchObject({
      ok: false,
      code: 'scope',
      elements: ['players/LT', 'spots/LT'],
      names: ['LT', 'where LT stands'],
      shadow: 'dirty',
    });
    expect(gate.shadow.projection.board.play.players).toHaveLength(11);
    expect(codeOf(gate.offer('ann', update))).toBe('ok');
    expect(gate.shadow.projection.board.play.players).toHaveLength(10);
  });

  it("forged client id: a struct under a colleague's id is refused before it is tried", () => {
    const gate = new Gate(state);
    const ann = sender(101);
    ann.coach.movePlayer(H, [-6, -1]);
    expect(gate.offer('ann', ann.sent[0] as Uint8Array)).toMatchObject({
      ok: true,
      clients: [101],
    });
    const forged = updateOf((ydoc) => ydoc.getMap('spots').set('H', [0, 0]), 101, gate.state);
    expect(gate.offer('eve', forged)).toMatchObject({
      ok: false,
      code: 'foreignClient',
      shadow: 'clean',
    });
    ann.coach.movePlayer(H, [-7, -1]);
    expect(codeOf(gate.offer('ann', ann.sent[1] as Uint8Array))).toBe('ok');
    expect(gate.shadow.roots.maps.spots.get('H')).toEqual([-7, -1]);
  });

  it("forged client id: nobody writes under the creator's", () => {
    const gate = new Gate(state);
    const forged = updateOf((ydoc) => ydoc.getMap('spots').set('H', [0, 0]), creatorClient);
    expect(codeOf(gate.offer('eve', forged))).toBe('foreignClient');
  });

  it.each([
    ['a map', (ydoc: Y.Doc) => ydoc.getMap('contraband').set('x', 1)],
    ['a text', (ydoc: Y.Doc) => ydoc.getText('contraband').insert(0, 'x')],
    ['an empty name', (ydoc: Y.Doc) => ydoc.getMap('').set('x', 1)],
    ['__proto__', (ydoc: Y.Doc) => ydoc.getMap('__proto__').set('x', 1)],
    [
      'one that is empty again',
      (ydoc: Y.Doc) => {
        ydoc.getMap('contraband').set('x', 1);
        ydoc.getMap('contraband').delete('x');
      },
    ],
    [
      'one beside an honest edit',
      (ydoc: Y.Doc) => {
        ydoc.getMap('meta').set('name', 'Honest');
        ydoc.getMap('contraband').set('x', 1);
      },
    ],
  ])('undeclared root: %s', (_, write) => {
    const gate = new Gate(state);
    expect(codeOf(gate.offer('eve', updateOf(write)))).toBe('undeclaredRoot');
    expect(gate.shadow.ydoc.share.size).toBe(mapRoots.length + 1);
    expect(gate.state).toEqual(new Gate(state).state);
  });

  it('an observer that throws changes no verdict: nothing is judged in observers', () => {
    const gate = new Gate(state);
    const { coach, sent } = sender(101);
    const looking = coachAt(state, 102);
    looking.ydoc.on('update', () => {
      throw new Error('observer');
    });
    coach.movePlayer(H, [-6, -1]);
    const update = sent[0] as Uint8Array;
    expect(() => Y.applyUpdate(looking.ydoc, update)).toThrow('observer');
    expect(looking.ydoc.getMap('spots').get('H')).toEqual([-6, -1]);
    expect(codeOf(gate.offer('ann', update))).toBe('ok');
    expect(
      codeOf(
        gate.offer(
          'eve',
          updateOf((ydoc) => ydoc.getMap('spots').set('H', 'x')),
        ),
      ),
    ).toBe('schema');
    expect(gate.shadow.roots.maps.spots.get('H')).toEqual([-6, -1]);
  });
});

describe('hostile bytes', () => {
  const varuints = (...numbers: number[]): Uint8Array => {
    const encoder = encoding.createEncoder();
    for (const number of numbers) encoding.writeVarUint(encoder, number);
    return encoding.toUint8Array(encoder);
  };

  it.each([
    ['nothing at all', new Uint8Array()],
    ['a single byte', Uint8Array.of(255)],
    ['a count and no more', varuints(1)],
    ['thirty million structs announced, none there', varuints(1, 30_000_000, 666, 0)],
    ['a length of 2^53', varuints(2 ** 53 - 1)],
    [
      'a gap that fills the clock',
      Uint8Array.of(...varuints(1, 1, 666, 0), 0, ...varuints(2 ** 52), 0),
    ],
    ['a clock near 2^53', Uint8Array.of(...varuints(1, 1, 666, 2 ** 53 - 2), 0, ...varuints(1), 0)],
    [
      'a content of a kind that there is not',
      Uint8Array.of(...varuints(1, 1, 666, 0), 31, 1, 1, 97, 0),
    ],
    ['nesting as deep as the frame', nested(200_000)],
  ])('%s is malformed', (_, bytes) => {
    const gate = new Gate(state);
    expect(codeOf(gate.offer('eve', bytes))).toBe('malformed');
    expect(gate.state).toEqual(new Gate(state).state);
  });

  /** `{a: [[[[…]]]]}` under players/H, as bytes: the value is built by hand, since no editor can. */
  function nested(depth: number): Uint8Array {
    const encoder = encoding.createEncoder();
    for (const number of [1, 1, 666, 0]) encoding.writeVarUint(encoder, number);
    encoding.writeUint8(encoder, 8 | 32);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, 'players');
    encoding.writeVarString(encoder, 'H');
    encoding.writeVarUint(encoder, 1);
    for (let i = 0; i < depth; i++) {
      encoding.writeUint8(encoder, 117);
      encoding.writeVarUint(encoder, 1);
    }
    encoding.writeUint8(encoder, 126);
    encoding.writeVarUint(encoder, 0);
    return encoding.toUint8Array(encoder);
  }

  it('a shallow value by the same hand is read, so it is the depth that was refused', () => {
    expect(codeOf(new Gate(state).offer('eve', nested(3)))).toBe('schema');
  });

  it('more pieces than the fullest board is made of are refused before they are tried', () => {
    const pieces = (count: number): Uint8Array =>
      updateOf((ydoc) => {
        for (let i = 0; i < count; i++) ydoc.getMap('spots').set(`p${i}`, [0, 0]);
      });
    const gate = new Gate(state);
    const shadow = gate.shadow;
    const refused = gate.offer('eve', pieces(maxStructsOfUpdate + 1));
    expect(refused).toMatchObject({ ok: false, code: 'tooLarge', shadow: 'clean' });
    expect(gate.shadow).toBe(shadow);
    expect(gate.offer('eve', pieces(maxStructsOfUpdate))).toMatchObject({ shadow: 'dirty' });
  });

  /** Nothing but deletions: of so many client ids, and so many runs of each. */
  const deletions = (clients: readonly number[], runs: number): Uint8Array => {
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, 0);
    encoding.writeVarUint(encoder, clients.length);
    for (const client of clients) {
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, runs);
      for (let run = 0; run < runs; run++) {
        encoding.writeVarUint(encoder, run * 2);
        encoding.writeVarUint(encoder, 1);
      }
    }
    return encoding.toUint8Array(encoder);
  };

  it('deletions of what nobody wrote, and more runs of them than there can be, are refused before they are tried', () => {
    const gate = new Gate(state);
    const strangers = Array.from({ length: 1_000 }, (_, i) => 10_000 + i);
    for (const [update, code] of [
      [deletions(strangers, 1), 'pending'],
      [deletions([creatorClient], maxDeletionsOfUpdate + 1_000), 'tooLarge'],
    ] as const)
      expect(gate.offer('eve', update)).toMatchObject({ ok: false, code, shadow: 'clean' });
  });

  it('client ids without a piece of content are counted all the same: nobody may bring them without end', () => {
    const gate = new Gate(state);
    /** An empty piece under each of these ids. */
    const empty = (first: number, count: number): Uint8Array => {
      const encoder = encoding.createEncoder();
      encoding.writeVarUint(encoder, count);
      // Yjs writes the highest id first.
      for (let client = first + count - 1; client >= first; client--) {
        for (const value of [1, client, 0]) encoding.writeVarUint(encoder, value);
        encoding.writeUint8(encoder, 0);
        encoding.writeVarUint(encoder, 1);
      }
      encoding.writeVarUint(encoder, 0);
      return encoding.toUint8Array(encoder);
    };
    const line: EditScope = { kind: 'positions', positions: ['C', 'G', 'T'] };
    let taken = 0;
    let verdict = gate.offer('eve', empty(1_000, maxWritersOfUpdate), line);
    while (verdict.ok && taken < 2 * maxWritersOfMember) {
      taken += maxWritersOfUpdate;
      verdict = gate.offer('eve', empty(1_000 + taken, maxWritersOfUpdate), line);
    }
    expect(taken).toBe(maxWritersOfMember);
    expect(verdict).toMatchObject({ ok: false, code: 'tooLarge', shadow: 'clean' });
    // That he showed himself under an id before is no way round it.
    const shown = { shadow: gate.shadow, member: 'eve', clients: () => 'eve', scope: line };
    expect(judge({ ...shown, update: empty(900_000, 1), mayBring: () => 0 })).toMatchObject({
      code: 'tooLarge',
    });
    // Whom he knows already he may go on writing under, and nobody else is held up.
    expect(
      codeOf(
        gate.offer(
          'ann',
          updateOf((ydoc) => ydoc.getMap('meta').set('name', 'Ann')),
        ),
      ),
    ).toBe('ok');
  });

  it('bytes after the end are malformed', () => {
    const honest = updateOf((ydoc) => ydoc.getMap('spots').set('H', [0, 0]));
    const gate = new Gate(state);
    expect(codeOf(gate.offer('eve', Uint8Array.of(...honest, 1, 2, 3)))).toBe('malformed');
    expect(codeOf(gate.offer('eve', honest))).toBe('ok');
  });

  it('every truncation of an honest update is refused, none is half taken', () => {
    const honest = updateOf((ydoc) => {
      ydoc.getMap('meta').set('name', 'Whole');
      ydoc.getMap('spots').set('H', [0, 0]);
    });
    const gate = new Gate(state);
    for (let end = 0; end < honest.length; end++) {
      expect(gate.offer('eve', honest.slice(0, end)).ok).toBe(false);
    }
    expect(gate.shadow.projection).toEqual(new Gate(state).shadow.projection);
  });

  it('flipped bytes never throw, and what is taken is a board', () => {
    const honest = updateOf((ydoc) => {
      ydoc.getMap('meta').set('name', 'Whole');
      ydoc.getMap('spots').delete('H');
      ydoc.getXmlFragment('notes').insert(0, [new Y.XmlElement('paragraph')]);
    });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat({ max: honest.length - 1 }), fc.nat({ max: 255 })), {
          minLength: 1,
          maxLength: 4,
        }),
        (flips) => {
          const bytes = Uint8Array.from(honest);
          for (const [at, value] of flips) bytes[at] = value;
          const gate = new Gate(state);
          const verdict = gate.offer('eve', bytes);
          expect(gate.shadow.clean).toBe(true);
          expect(
            gate.shadow.projection.unreadable.filter((each) => !each.why.includes('no place')),
          ).toEqual([]);
          expect(verdict.ok || verdict.why.length > 0).toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('what no board can hold', () => {
  it.each<[string, (ydoc: Y.Doc) => void]>([
    [
      'a shared map as a value',
      (ydoc) => ydoc.getMap('players').set('H', new Y.Map([['label', 'H']])),
    ],
    ['a shared text as a value', (ydoc) => ydoc.getMap('meta').set('name', new Y.Text('H'))],
    ['a document in the document', (ydoc) => ydoc.getMap('players').set('H', new Y.Doc())],
    ['bytes', (ydoc) => ydoc.getMap('spots').set('H', new Uint8Array(4))],
    ['undefined', (ydoc) => ydoc.getMap('spots').set('H', undefined)],
    ['a big integer', (ydoc) => ydoc.getMap('spots').set('H', [1n, 2n])],
    ['not a number', (ydoc) => ydoc.getMap('spots').set('H', [Number.NaN, 0])],
    ['off the earth', (ydoc) => ydoc.getMap('spots').set('H', [1e9, 0])],
    ['x and y by name', (ydoc) => ydoc.getMap('spots').set('H', { x: 1, y: 2 })],
    [
      'a field more',
      (ydoc) => ydoc.getMap('players').set('H', { label: 'H', position: 'WR', number: 1, evil: 1 }),
    ],
    [
      'a position of its own',
      (ydoc) => ydoc.getMap('players').set('H', { label: 'H', position: 'HC', number: 1 }),
    ],
    [
      'a name behind a megabyte of blanks',
      (ydoc) => ydoc.getMap('meta').set('name', `Play${' '.repeat(500_000)}`),
    ],
    ['NUL in a name', (ydoc) => ydoc.getMap('meta').set('name', 'Lan\0tern')],
    [
      'NUL in the notes',
      (ydoc) => {
        const paragraph = new Y.XmlElement('paragraph');
        paragraph.insert(0, [new Y.XmlText('Eyes\0up')]);
        ydoc.getXmlFragment('notes').insert(0, [paragraph]);
      },
    ],
    ['no name', (ydoc) => ydoc.getMap('meta').delete('name')],
    ['another version', (ydoc) => ydoc.getMap('meta').set('version', 2)],
    ['no version', (ydoc) => ydoc.getMap('meta').delete('version')],
    ['a name that meta does not have', (ydoc) => ydoc.getMap('meta').set('secret', 1)],
    [
      'a key that is no id',
      (ydoc) => ydoc.getMap('players').set('a b', { label: 'H', position: 'WR', number: 1 }),
    ],
    ['__proto__ as a player', (ydoc) => ydoc.getMap('spots').set('__proto__', [0, 0])],
    ['a row without a player', (ydoc) => ydoc.getMap('rows').set('r1', row('r1'))],
    ["a row under another's name", (ydoc) => ydoc.getMap('rows').set('H.r1', row('r2'))],
    [
      'a row without a place',
      (ydoc) => ydoc.getMap('rows').set('H.r1', { ...row('r1'), order: undefined }),
    ],
    [
      'a row with a place that is none',
      (ydoc) => ydoc.getMap('rows').set('H.r1', { ...row('r1'), order: 'zz' }),
    ],
    ['a list in a map', (ydoc) => ydoc.getArray('spots').push([1])],
    ['a text in a map', (ydoc) => ydoc.getText('spots').insert(0, 'contraband')],
    ['names on the notes', (ydoc) => ydoc.getMap('notes').set('contraband', 1)],
  ])('%s is refused', (_, write) => {
    const gate = new Gate(state);
    const update = foreignTyped(write);
    const verdict = gate.offer('eve', update);
    expect(codeOf(verdict)).toBe('schema');
    expect(gate.state).toEqual(new Gate(state).state);
    expect(gate.shadow.projection).toEqual(new Gate(state).shadow.projection);
  });

  const row = (id: string) => ({ id, conditions: [], branch: 'b', says: '', order: 'a0' });

  /** Written on a document on which no root has a type yet, so that a root can be used as another type. */
  function foreignTyped(write: (ydoc: Y.Doc) => void): Uint8Array {
    const ydoc = new Y.Doc();
    ydoc.clientID = 666;
    Y.applyUpdate(ydoc, state);
    const before = Y.encodeStateVector(ydoc);
    ydoc.transact(() => write(ydoc));
    return Y.encodeStateAsUpdate(ydoc, before);
  }

  it('a value with others hidden behind it is refused, though it reads as an honest one', () => {
    const hidden = new Y.ContentAny(['contraband', [-8, -1.2]]);
    const update = updateOf((ydoc) => {
      const spots = ydoc.getMap('spots');
      const left = spots._map.get('H') ?? null;
      const id = Y.createID(ydoc.clientID, 0);
      ydoc.transact((transaction) => {
        new Y.Item(
          id,
          left,
          left?.lastId ?? null,
          null,
          null,
          spots as never,
          'H',
          hidden,
        ).integrate(transaction, 0);
      });
    });
    const gate = new Gate(state);
    expect(gate.offer('eve', update)).toMatchObject({ ok: false, code: 'schema' });
  });

  it('an object that names its own prototype is refused', () => {
    // lib0 sets the prototype while it reads such an object: the label would come from there.
    const encoder = encoding.createEncoder();
    for (const number of [1, 1, 666, 0]) encoding.writeVarUint(encoder, number);
    encoding.writeUint8(encoder, 8 | 32);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, 'players');
    encoding.writeVarString(encoder, 'N');
    encoding.writeVarUint(encoder, 1);
    encoding.writeUint8(encoder, 118);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, '__proto__');
    encoding.writeAny(encoder, { label: 'N', position: 'WR', number: 1 });
    encoding.writeVarUint(encoder, 0);
    const verdict = new Gate(state).offer('eve', encoding.toUint8Array(encoder));
    expect(verdict).toMatchObject({ ok: false, code: 'schema', elements: ['players/N'] });
  });
});

describe('what belongs to nobody on the board', () => {
  const nobody = (n: number) => asPlayerId(`N${n}`);

  it('is taken, since another coach may be removing him at the moment; shown nowhere; bounded; swept away', () => {
    const gate = new Gate(state);
    const before = gate.shadow.projection.board;
    const fill = updateOf((ydoc) => {
      for (let i = 0; ydoc.getMap('spots').size < maxStoredOfPlayers; i++)
        ydoc.getMap('spots').set(nobody(i), [0, -1]);
    });
    expect(codeOf(gate.offer('eve', fill))).toBe('ok');
    expect(gate.shadow.projection.board).toEqual(before);
    expect(gate.shadow.projection.orphans).toHaveLength(maxStoredOfPlayers - 11);
    const more = updateOf(
      (ydoc) => ydoc.getMap('spots').set(nobody(999), [0, -1]),
      667,
      gate.state,
    );
    expect(codeOf(gate.offer('eve', more))).toBe('tooLarge');
    const { coach, sent } = sender(101, gate.state);
    coach.replacePlayers(before.play.players);
    expect(codeOf(gate.offer('ann', Y.mergeUpdates(sent)))).toBe('ok');
    expect(gate.shadow.projection).toMatchObject({ board: before, orphans: [] });
  });

  it('is not touched by a position coach, who has no such player', () => {
    const write = updateOf((ydoc) => ydoc.getMap('spots').set(nobody(1), [0, -1]));
    const scope: EditScope = { kind: 'positions', positions: ['WR', 'TE'] };
    expect(codeOf(new Gate(state).offer('eve', write, scope))).toBe('scope');
  });
});
