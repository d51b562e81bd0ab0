import { cardHead } from '@stemline/testkit/cards';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { Gate } from '@stemline/testkit/gate';
import { asPlayerId, boardPlay, fullBoard, handPlay } from '@stemline/testkit/plays';
import { sender as senderFrom, updateOf as updateFrom } from '@stemline/testkit/sender';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import { elementKey } from './element-key.ts';
import { sameJson } from './json.ts';
import { project } from './project.ts';
import { mapRoots, newDocument, rootsOf } from './schema.ts';
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

describe('limits', () => {
  const many = (root: string, count: number, value: (i: number) => [string, unknown]): Uint8Array =>
    updateOf((ydoc) => {
      for (let i = 0; i < count; i++) ydoc.getMap(root).set(...value(i));
    });
  const row = (i: number) => ({ id: `r${i}`, conditions: [], branch: 'b', says: '', order: 'a0' });
  const block = (i: number) => ({
    id: `b${i}`,
    name: 'B',
    kind: 'block',
    what: 'slide',
    order: 'a0',
  });

  it.each([
    ['players', many('players', 40, (i) => [`p${i}`, { label: 'P', position: 'WR', number: 1 }])],
    ['spots', many('spots', 120, (i) => [`p${i}`, [0, 0]])],
    ['rows of one card', many('rows', 2001, (i) => [`H.r${i}`, row(i)])],
    ['rows of all cards', many('rows', 4100, (i) => [`p${i % 10}.r${i}`, row(i)])],
    ['branches of one card', many('branches', 61, (i) => [`H.b${i}`, block(i)])],
  ])('too many %s are refused', (_, update) => {
    const verdict = new Gate(state).offer('eve', update);
    expect(verdict).toMatchObject({ ok: false, code: 'tooLarge' });
    expect(verdict.ok || verdict.elements.length > 0).toBe(true);
  });

  it('two formations at once, twenty-two players, are taken: the board names who is too many', () => {
    const gate = new Gate(state);
    const update = many('players', 11, (i) => [`p${i}`, { label: 'P', position: 'WR', number: 1 }]);
    const spots = updateOf((ydoc) => {
      for (let i = 0; i < 11; i++) ydoc.getMap('spots').set(`p${i}`, [0, 0]);
    }, 667);
    expect(codeOf(gate.offer('ann', update))).toBe('ok');
    expect(codeOf(gate.offer('ann', spots))).toBe('ok');
    expect(gate.shadow.projection.board.play.players).toHaveLength(11);
    expect(gate.shadow.projection.unreadable).toHaveLength(11);
  });
});

describe('scope', () => {
  const receivers = { kind: 'positions', positions: ['WR', 'TE'] } as const;
  const head: unknown = JSON.parse(
    JSON.stringify(fc.sample(cardHead([]), { numRuns: 1, seed: 1 })[0]),
  );

  it.each<[string, boolean, (ydoc: Y.Doc) => void]>([
    ['moves his own player', true, (ydoc) => ydoc.getMap('spots').set('H', [0, -1])],
    [
      'renames his own player',
      true,
      (ydoc) => ydoc.getMap('players').set('H', { label: 'A', position: 'WR', number: 1 }),
    ],
    [
      'makes a receiver a tight end, both his',
      true,
      (ydoc) => ydoc.getMap('players').set('H', { label: 'H', position: 'TE', number: 1 }),
    ],
    ['writes a card of his own player', true, (ydoc) => ydoc.getMap('cards').set('H', head)],
    [
      'writes notes',
      true,
      (ydoc) => ydoc.getXmlFragment('notes').insert(0, [new Y.XmlElement('paragraph')]),
    ],
    ["moves another's player", false, (ydoc) => ydoc.getMap('spots').set('LT', [0, -1])],
    [
      "gives another's player a route",
      false,
      (ydoc) =>
        ydoc.getMap('routes').set('F', {
          release: { side: 'free', hesitate: 0 },
          stem: [[0, 1]],
          finish: [],
          shape: 'sharp',
          name: '',
        }),
    ],
    ["writes another's card", false, (ydoc) => ydoc.getMap('cards').set('Q', head)],
    [
      'takes a back into his group',
      false,
      (ydoc) => ydoc.getMap('players').set('F', { label: 'F', position: 'WR', number: 22 }),
    ],
    [
      'gives his player away',
      false,
      (ydoc) => ydoc.getMap('players').set('H', { label: 'H', position: 'RB', number: 11 }),
    ],
    [
      'removes his own player',
      false,
      (ydoc) => {
        ydoc.getMap('players').delete('H');
        ydoc.getMap('spots').delete('H');
      },
    ],
    [
      'takes the place from under his own player',
      false,
      (ydoc) => ydoc.getMap('spots').delete('H'),
    ],
    [
      'adds a player',
      false,
      (ydoc) => {
        ydoc.getMap('players').set('N', { label: 'N', position: 'WR', number: 1 });
        ydoc.getMap('spots').set('N', [0, -1]);
      },
    ],
    ['places a player who is not there', false, (ydoc) => ydoc.getMap('spots').set('N', [0, -1])],
    ['renames the play', false, (ydoc) => ydoc.getMap('meta').set('name', 'Mine')],
    [
      'moves the ball',
      false,
      (ydoc) =>
        ydoc
          .getMap('meta')
          .set('situation', { code: 'college', spot: 'left', toGoal: 50, down: 1, toGain: 10 }),
    ],
    [
      "moves his own and another's in one",
      false,
      (ydoc) => {
        ydoc.getMap('spots').set('H', [0, -1]);
        ydoc.getMap('spots').set('LT', [0, -1]);
      },
    ],
    [
      'swaps two positions and moves the one he wants',
      false,
      (ydoc) => {
        ydoc.getMap('players').set('F', { label: 'F', position: 'WR', number: 22 });
        ydoc.getMap('spots').set('F', [0, -1]);
      },
    ],
  ])('a receivers coach who %s: %s', (_, may, write) => {
    const verdict = new Gate(state).offer('rae', updateOf(write), receivers);
    expect(codeOf(verdict)).toBe(may ? 'ok' : 'scope');
  });

  it('he who may only read brings nothing in, not even what shows nowhere', () => {
    const gate = new Gate(state);
    const { coach, sent } = sender(666);
    coach.movePlayer(H, [0, -1]);
    expect(gate.offer('pat', sent[0] as Uint8Array, { kind: 'none' })).toMatchObject({
      code: 'readOnly',
      elements: ['spots/H'],
    });
    const ghost = updateOf((ydoc) => {
      ydoc.getMap('routes').set('H', 1);
      ydoc.getMap('routes').delete('H');
    });
    expect(codeOf(gate.offer('pat', ghost, { kind: 'none' }))).toBe('readOnly');
  });

  it('an empty sync step 2 is no change, for a reader too', () => {
    const gate = new Gate(state);
    const reader = coachAt(state, 666);
    const stepTwo = Y.encodeStateAsUpdate(reader.ydoc, Y.encodeStateVector(gate.shadow.ydoc));
    expect(gate.offer('pat', stepTwo, { kind: 'none' })).toMatchObject({
      ok: true,
      changed: [],
      clients: [],
      news: false,
    });
    const all = Y.encodeStateAsUpdate(reader.ydoc);
    expect(gate.offer('pat', all, { kind: 'none' })).toMatchObject({
      ok: true,
      changed: [],
      news: false,
    });
  });

  it("an answer to an older question carries a colleague's structs that are there already: no forgery", () => {
    const gate = new Gate(state);
    const asked = Y.encodeStateVector(gate.shadow.ydoc);
    const ann = sender(101);
    ann.coach.movePlayer(H, [-6, -1]);
    expect(gate.offer('ann', ann.sent[0] as Uint8Array).ok).toBe(true);
    const bob = sender(202, gate.state);
    bob.coach.setName('Bob was here');
    const answer = Y.encodeStateAsUpdate(bob.coach.ydoc, asked);
    expect(gate.offer('bob', answer)).toMatchObject({
      ok: true,
      changed: ['meta/name'],
      clients: [202],
    });
  });
});

describe('a coach back from offline', () => {
  const back = () => {
    const gate = new Gate(state);
    const { coach, sent } = sender(101);
    coach.setName('Made offline');
    const answer = Y.encodeStateAsUpdate(coach.ydoc, Y.encodeStateVector(gate.shadow.ydoc));
    coach.movePlayer(H, [0, -1]);
    return { gate, answer, outrun: sent[1] as Uint8Array };
  };

  it('what he does before his answer to the sync arrives looks pending: a room must not judge it alone', () => {
    const { gate, outrun } = back();
    expect(codeOf(gate.offer('ann', outrun))).toBe('pending');
  });

  it('merged with his answer it is taken', () => {
    const { gate, answer, outrun } = back();
    expect(gate.offer('ann', Y.mergeUpdates([outrun, answer]))).toMatchObject({
      ok: true,
      changed: ['meta/name', 'spots/H'],
      clients: [101],
    });
  });
});

describe('laws', () => {
  const raw = (ydoc: Y.Doc) => {
    const { maps, notes } = rootsOf(ydoc);
    const values = new Map<string, unknown>([['notes', notes.toString()]]);
    for (const root of mapRoots)
      for (const [key, value] of maps[root].entries()) values.set(elementKey(root, key), value);
    return values;
  };
  /** Every element that differs between two documents, found by comparing everything. */
  const difference = (before: Y.Doc, after: Y.Doc): string[] => {
    const [old, next] = [raw(before), raw(after)];
    return [...new Set([...old.keys(), ...next.keys()])]
      .filter((key) => !sameJson(old.get(key), next.get(key)))
      .sort();
  };
  const copyOf = (bytes: Uint8Array): Y.Doc => {
    const ydoc = newDocument();
    Y.applyUpdate(ydoc, bytes);
    return ydoc;
  };

  it('any edit of a whole-board editor is accepted, and `changed` is exactly what a full comparison finds', () => {
    let changes = 0;
    fc.assert(
      fc.property(
        fullBoard(),
        fc.array(edit(), { minLength: 3, maxLength: 15 }),
        (board, edits) => {
          const first = createBoardState(board.play, board.notes);
          const gate = new Gate(first);
          const { coach, sent } = sender(101, first);
          for (const each of edits) {
            makeEdit(coach, each);
            for (const update of sent.splice(0)) {
              const before = copyOf(gate.state);
              const verdict = gate.offer('ann', update);
              if (!verdict.ok)
                throw new Error(`${verdict.code}: ${verdict.why} ${verdict.elements.join()}`);
              const expected = difference(before, gate.shadow.ydoc);
              // Notes may be rewritten to read the same; then they are named all the same.
              expect(verdict.changed.filter((key) => key !== 'notes').sort()).toEqual(
                expected.filter((key) => key !== 'notes'),
              );
              if (expected.includes('notes')) expect(verdict.changed).toContain('notes');
              expect(verdict.projection).toEqual(project(coach.ydoc));
              changes += verdict.changed.length;
            }
          }
        },
      ),
      { numRuns: 30 },
    );
    expect(changes).toBeGreaterThan(100);
  });

  it('a position coach is let in exactly where an independent reading of the rule lets him', () => {
    const seen = { ok: 0, scope: 0 };
    fc.assert(
      fc.property(
        fullBoard(),
        fc.array(edit(), { minLength: 5, maxLength: 20 }),
        (board, edits) => {
          const first = createBoardState(board.play, board.notes);
          for (const each of edits) {
            const gate = new Gate(first);
            const { coach, sent } = sender(101, first);
            makeEdit(coach, each);
            const update = sent[0];
            if (update === undefined) continue;
            const before = copyOf(first).getMap('players').toJSON() as Record<
              string,
              { position: string }
            >;
            const after = coach.ydoc.getMap('players').toJSON() as Record<
              string,
              { position: string }
            >;
            const mine = (player: string): boolean =>
              [before, after].every((players) =>
                ['WR', 'TE'].includes(players[player]?.position ?? 'none'),
              );
            const may = difference(copyOf(first), coach.ydoc).every(
              (key) =>
                key === 'notes' ||
                (!key.startsWith('meta/') && mine((key.split('/')[1] ?? '').split('.')[0] ?? '')),
            );
            const verdict = gate.offer('rae', update, {
              kind: 'positions',
              positions: ['WR', 'TE'],
            });
            expect(codeOf(verdict)).toBe(may ? 'ok' : 'scope');
            seen[may ? 'ok' : 'scope'] += 1;
          }
        },
      ),
      { numRuns: 30 },
    );
    expect(seen.ok).toBeGreaterThan(20);
    expect(seen.scope).toBeGreaterThan(20);
  });

  it('what is passed on is what it brought: a struct whose content is gone, repeated with another, is left out', () => {
    const gate = new Gate(state);
    const ann = sender(101);
    ann.coach.movePlayer(H, [-6, -1]);
    ann.coach.movePlayer(H, [-8, -1.2]);
    for (const update of ann.sent) gate.offer('ann', update);
    const late = new Y.Doc();
    Y.applyUpdate(late, state);
    // Eve repeats Ann's struct with a place of her own, and adds an honest edit.
    const liar = updateOf((ydoc) => ydoc.getMap('spots').set('H', [20, -1]), 101);
    const honest = updateOf((ydoc) => ydoc.getMap('meta').set('name', 'Honest'), 666);
    const verdict = gate.offer('eve', Y.mergeUpdates([liar, honest]));
    if (!verdict.ok) throw new Error(verdict.why);
    expect(verdict).toMatchObject({ changed: ['meta/name'], clients: [666] });
    Y.applyUpdate(late, verdict.update);
    expect(late.getMap('meta').get('name')).toBe('Honest');
    expect(late.getMap('spots').get('H')).toEqual([-8, -1.2]);
  });

  it('a struct of a colleague repeated with another content is refused, with whatever comes along', () => {
    const gate = new Gate(state);
    const ann = sender(101);
    ann.coach.movePlayer(H, [-6, -1]);
    gate.offer('ann', ann.sent[0] as Uint8Array);
    const liar = updateOf((ydoc) => ydoc.getMap('spots').set('H', [20, -1]), 101);
    const honest = updateOf((ydoc) => ydoc.getMap('meta').set('name', 'Honest'), 666);
    expect(gate.offer('eve', Y.mergeUpdates([ann.sent[0] as Uint8Array, honest])).ok).toBe(true);
    const more = updateOf((ydoc) => ydoc.getMap('meta').set('concept', 'Honest'), 667);
    const verdict = gate.offer('eve', Y.mergeUpdates([liar, more]));
    expect(verdict).toMatchObject({ ok: false, code: 'foreignClient', shadow: 'clean' });
  });

  it('colleagues’ words that the board has not yet are named at once, of all of them', () => {
    const gate = new Gate(state);
    const [ann, ben] = [sender(101), sender(102)];
    for (const { coach, sent } of [ann, ben]) {
      coach.movePlayer(H, [-6, -1]);
      gate.offer(coach === ann.coach ? 'ann' : 'ben', sent[0] as Uint8Array);
      coach.movePlayer(H, [-7, -1]);
    }
    const both = Y.mergeUpdates([ann.sent[1] as Uint8Array, ben.sent[1] as Uint8Array]);
    const verdict = gate.offer('eve', both);
    expect(verdict).toMatchObject({ ok: false, code: 'foreignClient', shadow: 'clean' });
    expect(verdict.ok ? [] : [...verdict.awaits].sort()).toEqual([
      [101, { clock: 1, isGap: false }],
      [102, { clock: 1, isGap: false }],
    ]);
  });

  it('two copies that write under one id of one member: whoever comes second is told, and not that it is there', () => {
    const second = [
      (ydoc: Y.Doc) => ydoc.getMap('spots').set('H', [20, -1]),
      (ydoc: Y.Doc) => ydoc.getMap('meta').set('name', 'Elsewhere'),
      (ydoc: Y.Doc) => {
        ydoc.getMap('spots').set('H', [-8, -1.2]);
        ydoc.getMap('meta').set('name', 'The first the same, and more');
        ydoc.getMap('meta').set('name', 'And more');
      },
    ];
    for (const write of second) {
      const gate = new Gate(state);
      gate.offer(
        'ann',
        updateOf((ydoc) => ydoc.getMap('spots').set('H', [-8, -1.2]), 101),
      );
      gate.offer(
        'ann',
        updateOf((ydoc) => ydoc.getMap('meta').set('concept', 'Two'), 101, gate.state),
      );
      const verdict = gate.offer('ann', updateOf(write, 101));
      expect(verdict).toMatchObject({ ok: false, code: 'foreignClient', shadow: 'clean' });
      expect(gate.shadow.projection.board.play.concept).toBe('Two');
    }
  });

  it('what the board has already may be said again, cut and joined in any way, however much of it is gone', () => {
    fc.assert(
      fc.property(
        boardPlay(),
        fc.array(edit(), { minLength: 1, maxLength: 12 }),
        fc.array(edit(), { maxLength: 6 }),
        fc.array(fc.tuple(fc.nat(), fc.nat()), { minLength: 1, maxLength: 6 }),
        (board, ofAnn, ofBob, again) => {
          const first = createBoardState(board.play, board.notes);
          const gate = new Gate(first);
          const ann = sender(101, first);
          const bob = sender(202, first);
          for (const each of ofAnn) makeEdit(ann.coach, each);
          for (const update of ann.sent) gate.offer('ann', update);
          const whole = Y.encodeStateAsUpdate(ann.coach.ydoc);
          Y.applyUpdate(bob.coach.ydoc, whole);
          bob.sent.length = 0;
          for (const each of ofBob) makeEdit(bob.coach, each);
          for (const update of bob.sent) gate.offer('bob', update);
          Y.applyUpdate(ann.coach.ydoc, gate.state);
          for (const [from, count] of again) {
            const some = ann.sent.slice(from % ann.sent.length).slice(0, 1 + (count % 4));
            const parts =
              some.length > 0 ? [...some, Y.encodeStateAsUpdate(ann.coach.ydoc)] : [whole];
            for (const update of [
              ...parts,
              Y.mergeUpdates(parts),
              Y.diffUpdate(whole, Y.encodeStateVectorFromUpdate(parts[0] ?? whole)),
            ]) {
              const verdict = gate.offer('ann', update);
              if (!verdict.ok) throw new Error(verdict.why);
              expect(verdict.news).toBe(false);
            }
          }
        },
      ),
    );
  });

  it('what a colleague has cut in two may be said again whole, in the midst of a letter even', () => {
    const gate = new Gate(state);
    const ann = sender(101);
    const text = ({ coach }: typeof ann) =>
      (coach.notes.get(0) as Y.XmlElement).get(0) as Y.XmlText;
    text(ann).insert(0, 'a\u{1F600}b');
    const [whole] = ann.sent as [Uint8Array];
    gate.offer('ann', whole);
    const bob = sender(202, gate.state);
    text(bob).insert(2, '-');
    for (const update of bob.sent) expect(gate.offer('bob', update).ok).toBe(true);
    expect(gate.offer('ann', whole)).toMatchObject({ ok: true, news: false });
  });

  it('marks that met are tidied, and the update passed on has all of it', () => {
    const gate = new Gate(state);
    const seen = new Y.Doc();
    Y.applyUpdate(seen, state);
    for (const client of [101, 202]) {
      const { coach, sent } = sender(client);
      const text = (coach.notes.get(0) as Y.XmlElement).get(0) as Y.XmlText;
      text.format(0, 4, { bold: {} });
      text.format(0, 4, { bold: null });
      text.format(0, 4, { bold: {} });
      for (const update of sent) {
        const verdict = gate.offer(`coach ${client}`, update);
        if (!verdict.ok) throw new Error(verdict.why);
        Y.applyUpdate(seen, verdict.update);
      }
    }
    expect(project(seen)).toEqual(gate.shadow.projection);
    expect(Y.encodeStateVector(seen)).toEqual(Y.encodeStateVector(gate.shadow.ydoc));
  });

  it('edits made apart are all taken, in any order of arrival', () => {
    fc.assert(
      fc.property(
        boardPlay(),
        fc.array(edit(), { maxLength: 8 }),
        fc.array(edit(), { maxLength: 8 }),
        fc.infiniteStream(fc.boolean()),
        (board, ofAnn, ofBob, turns) => {
          const first = createBoardState(board.play, board.notes);
          const gate = new Gate(first);
          const ann = sender(101, first);
          const bob = sender(202, first);
          for (const each of ofAnn) makeEdit(ann.coach, each);
          for (const each of ofBob) makeEdit(bob.coach, each);
          const waiting = { ann: [...ann.sent], bob: [...bob.sent] };
          while (waiting.ann.length + waiting.bob.length > 0) {
            const who =
              waiting.bob.length === 0 || (waiting.ann.length > 0 && turns.next().value)
                ? 'ann'
                : 'bob';
            const update = waiting[who].shift() ?? new Uint8Array();
            expect(codeOf(gate.offer(who, update))).toBe('ok');
          }
          Y.applyUpdate(ann.coach.ydoc, gate.state);
          Y.applyUpdate(bob.coach.ydoc, gate.state);
          expect(ann.coach.snapshot()).toEqual(gate.shadow.projection);
          expect(bob.coach.snapshot()).toEqual(gate.shadow.projection);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('a shadow left dirty takes no further trial', () => {
    const gate = new Gate(state);
    gate.shadow.soil();
    expect(() =>
      gate.offer(
        'ann',
        updateOf((ydoc) => ydoc.getMap('spots').set('H', [0, 0])),
      ),
    ).toThrow('rebuild');
  });
});
