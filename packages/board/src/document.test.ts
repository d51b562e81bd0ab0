import type { Branch, BranchId, CardHead, Row, RowId } from '@stemline/read-rules/card';
import { edit, makeEdit } from '@stemline/testkit/edits';
import { asPlayerId, boardPlay, fullBoard, handPlay, handPlayers } from '@stemline/testkit/plays';
import { coachAt, twoCoaches } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import type { BoardDocument } from './document.ts';
import type { EditResult } from './edit.ts';
import { project } from './project.ts';
import { rootsOf } from './schema.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const H = asPlayerId('H');
const X = asPlayerId('X');
const nobody = asPlayerId('nobody');
const head: CardHead = {
  title: '',
  key: {
    levels: ['line'],
    maxDepth: 7,
    over: null,
    direction: 'inside',
    reach: 6,
    headUp: 0.5,
    tie: 0.3,
  },
  sideMan: { width: 3, depth: 6 },
  policy: 'first',
  whenInDoubt: null,
  noKey: null,
};
const row = (id: string): Row => ({
  id: id as RowId,
  conditions: [],
  branch: 'b' as BranchId,
  says: '',
});
const branch = (id: string): Branch => ({
  id: id as BranchId,
  name: 'SIT',
  kind: 'block',
  what: 'sit',
});
const route = {
  release: { side: 'free', hesitate: 0 },
  stem: [[0, 5]],
  finish: [],
  shape: 'sharp',
  name: '',
} as const;

const opened = (): BoardDocument => coachAt(createBoardState(handPlay()), 7);
const rowsOf = (coach: BoardDocument): string[] =>
  coach
    .snapshot()
    .board.play.cards.find((card) => card.player === H)
    ?.rows.map((each) => each.id) ?? [];

describe('edits', () => {
  it.each<[string, (coach: BoardDocument) => EditResult, string]>([
    ['a name of nothing but blanks', (c) => c.setName('   '), 'invalid'],
    ['a name with half a character', (c) => c.setName('Play \ud83d'), 'invalid'],
    ['a place off the field', (c) => c.movePlayer(H, [1000, 0]), 'invalid'],
    ['a place that is no number', (c) => c.movePlayer(H, [Number.NaN, 0]), 'invalid'],
    [
      'a fifth down',
      (c) => c.setSituation({ ...c.snapshot().board.play.situation, down: 5 }),
      'invalid',
    ],
    ['a route without a point', (c) => c.setRoute(H, { ...route, stem: [] }), 'invalid'],
    ['a motion without a point', (c) => c.setMotion(H, { path: [], atSnap: 'set' }), 'invalid'],
    [
      'a card that counts no level',
      (c) => c.setCard(H, { ...head, key: { ...head.key, levels: [] } }),
      'invalid',
    ],
    ['a move of nobody', (c) => c.movePlayer(nobody, [0, 0]), 'unknown'],
    [
      'one of two moves is of nobody',
      (c) =>
        c.movePlayers([
          { player: H, at: [0, 0] },
          { player: nobody, at: [0, 0] },
        ]),
      'unknown',
    ],
    ['a route for nobody', (c) => c.setRoute(nobody, route), 'unknown'],
    ['a row without a card', (c) => c.putRow(H, row('r1')), 'unknown'],
    ['a branch without a card', (c) => c.putBranch(H, branch('b')), 'unknown'],
    ['the removal of a row that is not there', (c) => c.removeRow(H, 'r1' as RowId), 'unknown'],
    ['the removal of a card that is not there', (c) => c.removeCard(H), 'unknown'],
    ['the removal of nobody', (c) => c.removePlayer(nobody), 'unknown'],
    [
      'a player with an id that is taken',
      (c) =>
        c.addPlayer({ ...(handPlayers()[0] as never as ReturnType<typeof handPlayers>[number]) }),
      'taken',
    ],
    [
      'a twelfth player',
      (c) =>
        c.addPlayer({ id: asPlayerId('N'), label: 'N', position: 'WR', number: 1, at: [0, -1] }),
      'tooMany',
    ],
    [
      'twelve at once',
      (c) =>
        c.replacePlayers([
          ...handPlayers(),
          { id: asPlayerId('N'), label: 'N', position: 'WR', number: 1, at: [0, -1] },
        ]),
      'tooMany',
    ],
  ])('%s: a typed refusal, nothing changed', (_, make, code) => {
    const coach = opened();
    const before = coach.snapshot();
    const state = Y.encodeStateAsUpdate(coach.ydoc);
    expect(make(coach)).toMatchObject({ ok: false, error: { code } });
    expect(coach.snapshot()).toBe(before);
    expect(Y.encodeStateAsUpdate(coach.ydoc)).toEqual(state);
    expect(coach.undo.canUndo()).toBe(false);
  });

  it('an invalid value says where it is wrong', () => {
    const result = opened().setRoute(H, {
      ...route,
      stem: [
        [0, 5],
        [0, 999],
      ],
    });
    expect(result).toMatchObject({
      ok: false,
      error: { code: 'invalid', where: ['stem', '1', '1'] },
    });
  });

  it('is one transaction each, with this editor as its origin', () => {
    fc.assert(
      fc.property(fullBoard(), fc.array(edit(), { maxLength: 10 }), (board, edits) => {
        const coach = coachAt(createBoardState(board.play, board.notes), 7);
        const origins: unknown[] = [];
        coach.ydoc.on('update', (_: Uint8Array, origin: unknown) => origins.push(origin));
        for (const each of edits) {
          origins.length = 0;
          makeEdit(coach, each);
          if (['writeNote', 'eraseNote', 'type', 'mark'].includes(each.do)) continue;
          expect(origins.length).toBeLessThanOrEqual(1);
          expect(origins.every((origin) => origin === coach.origin)).toBe(true);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('keeps blanks around a name out, and -0', () => {
    const coach = opened();
    coach.setName('  Harbour  ');
    coach.movePlayer(H, [-0, -1]);
    const stored = rootsOf(coach.ydoc).maps;
    expect(stored.meta.get('name')).toBe('Harbour');
    expect(Object.is((stored.spots.get('H') as number[])[0], 0)).toBe(true);
  });

  it('a removed player takes everything that is his along', () => {
    fc.assert(
      fc.property(
        boardPlay().filter(({ play }) => play.players.length > 0),
        (board) => {
          const coach = coachAt(createBoardState(board.play, board.notes), 7);
          const gone = board.play.players[0]?.id ?? H;
          coach.removePlayer(gone);
          const left = Object.values(rootsOf(coach.ydoc).maps).flatMap((map) => [...map.keys()]);
          expect(left.filter((key) => key === gone || key.startsWith(`${gone}.`))).toEqual([]);
          expect(coach.snapshot().orphans).toEqual([]);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('a card begins without what a colleague wrote while it was being removed', () => {
    const { a, b, line } = twoCoaches();
    a.setCard(H, head);
    line.settle();
    b.putRow(H, row('r1'));
    a.removeCard(H);
    line.settle();
    expect(a.snapshot().orphans).toEqual(['rows/H.r1']);
    a.setCard(H, head);
    expect(rowsOf(a)).toEqual([]);
    expect(a.snapshot().orphans).toEqual([]);
  });
});

describe('rows in their order', () => {
  const withRows = (...ids: string[]): BoardDocument => {
    const coach = opened();
    coach.setCard(H, head);
    for (const id of ids) coach.putRow(H, row(id));
    return coach;
  };

  it('come last, first or after one', () => {
    const coach = withRows('a', 'b');
    coach.putRow(H, row('c'));
    coach.putRow(H, row('d'), { after: null });
    coach.putRow(H, row('e'), { after: 'a' as RowId });
    expect(rowsOf(coach)).toEqual(['d', 'a', 'e', 'b', 'c']);
  });

  it('keep their place when they are changed', () => {
    const coach = withRows('a', 'b', 'c');
    coach.putRow(H, { ...row('b'), says: 'sit' });
    expect(rowsOf(coach)).toEqual(['a', 'b', 'c']);
  });

  it('a moved row is one value written', () => {
    const coach = withRows('a', 'b', 'c');
    const updates: Uint8Array[] = [];
    coach.ydoc.on('update', (update: Uint8Array) => updates.push(update));
    coach.moveRow(H, 'c' as RowId, null);
    expect(rowsOf(coach)).toEqual(['c', 'a', 'b']);
    expect(updates.flatMap((update) => Y.decodeUpdate(update).structs)).toHaveLength(1);
  });

  it('two put at one place at once: both stand, alike for both, and a third still finds a place between', () => {
    const { a, b, line } = twoCoaches();
    a.setCard(H, head);
    a.putRow(H, row('first'));
    line.settle();
    a.putRow(H, row('mine'));
    b.putRow(H, row('theirs'));
    line.settle();
    expect(rowsOf(a)).toEqual(rowsOf(b));
    expect(rowsOf(a)).toEqual(['first', 'mine', 'theirs']);
    a.putRow(H, row('between'), { after: 'mine' as RowId });
    expect(rowsOf(a)).toEqual(['first', 'mine', 'between', 'theirs']);
  });

  it('refuses a place after itself or after nobody', () => {
    const coach = withRows('a', 'b');
    expect(coach.moveRow(H, 'a' as RowId, 'a' as RowId).ok).toBe(false);
    expect(coach.moveRow(H, 'a' as RowId, 'z' as RowId).ok).toBe(false);
    expect(rowsOf(coach)).toEqual(['a', 'b']);
  });
});

describe('replacePlayers', () => {
  it('the same label keeps his id, his route and his card; his motion goes', () => {
    const coach = opened();
    coach.setRoute(H, route);
    coach.setMotion(H, { path: [[3, 0]], atSnap: 'set' });
    coach.setCard(H, head);
    coach.setRoute(X, route);
    const next = handPlayers()
      .filter((player) => player.label !== 'X')
      .map((player) => ({
        ...player,
        id: asPlayerId(`p-${player.label}`),
        at: [player.at[0] + 1, player.at[1]] as const,
      }));
    expect(coach.replacePlayers(next).ok).toBe(true);
    const { play } = coach.snapshot().board;
    expect(play.players.map((player) => player.id).sort()).toEqual(
      handPlayers()
        .map((player) => player.id)
        .filter((id) => id !== X)
        .sort(),
    );
    expect(Object.keys(play.routes)).toEqual(['H']);
    expect(play.motions).toEqual({});
    expect(play.cards.map((card) => card.player)).toEqual([H]);
    coach.undo.undo();
    expect(coach.snapshot().board.play.routes).toHaveProperty('X');
  });

  it('a new man with the id of one who went inherits nothing', () => {
    const coach = opened();
    coach.setRoute(X, route);
    const next = handPlayers().map((player) =>
      player.id === X ? { ...player, label: 'W' } : player,
    );
    coach.replacePlayers(next);
    expect(coach.snapshot().board.play.routes).toEqual({});
    expect(coach.snapshot().board.play.players).toHaveLength(11);
  });

  it('gives the players asked for, by label, place and trade, whatever stood there before', () => {
    fc.assert(
      fc.property(boardPlay(), fc.subarray(handPlayers(), { minLength: 1 }), (board, next) => {
        const coach = coachAt(createBoardState(board.play, board.notes), 7);
        expect(coach.replacePlayers(next).ok).toBe(true);
        const shown = coach.snapshot().board.play.players.map(({ id: _, ...rest }) => rest);
        expect(shown).toHaveLength(next.length);
        expect(shown).toEqual(expect.arrayContaining(next.map(({ id: _, ...rest }) => rest)));
        expect(coach.snapshot()).toMatchObject({ orphans: [], unreadable: [] });
      }),
      { numRuns: 40 },
    );
  });

  it('two who change to the same formation at once come to one formation', () => {
    const { a, b, line } = twoCoaches();
    const next = handPlayers().map((player, i) => ({
      ...player,
      label: i < 5 ? player.label : `${i}`,
    }));
    a.replacePlayers(next);
    b.replacePlayers(next);
    line.settle();
    expect(a.snapshot()).toEqual(b.snapshot());
    expect(a.snapshot().board.play.players).toHaveLength(11);
    expect(a.snapshot().unreadable).toEqual([]);
  });
});

describe('subscribe', () => {
  it('calls back once a change, own or a colleague’s, and stops when asked', () => {
    const { a, b, line } = twoCoaches();
    let calls = 0;
    const stop = a.subscribe(() => {
      calls += 1;
    });
    a.movePlayers([
      { player: H, at: [0, -1] },
      { player: X, at: [1, -1] },
    ]);
    b.setName('Theirs');
    line.settle();
    expect(calls).toBe(2);
    stop();
    a.setName('Mine');
    expect(calls).toBe(2);
  });

  it('a destroyed editor hears nothing more', () => {
    const coach = opened();
    coach.subscribe(() => {
      throw new Error('heard');
    });
    coach.destroy();
    coach.ydoc.getMap('meta').set('name', 'Later');
  });
});

describe('two coaches', () => {
  it('come to the same board in whatever order frames arrive, with cuts in between', () => {
    type Turn = {
      a?: Parameters<typeof makeEdit>[1];
      b?: Parameters<typeof makeEdit>[1];
      line?: 'a' | 'b' | 'cut' | 'mend';
    };
    const turn: fc.Arbitrary<Turn> = fc.oneof(
      fc.record({ a: edit() }),
      fc.record({ b: edit() }),
      fc.record({
        line: fc.constantFrom('a' as const, 'b' as const, 'cut' as const, 'mend' as const),
      }),
    );
    let edited = 0;
    fc.assert(
      fc.property(fullBoard(), fc.array(turn, { minLength: 5, maxLength: 30 }), (board, turns) => {
        const { a, b, line, state } = twoCoaches(board);
        for (const each of turns) {
          if (each.a) makeEdit(a, each.a);
          if (each.b) makeEdit(b, each.b);
          if (each.line === 'a') line.deliver(0, 1);
          if (each.line === 'b') line.deliver(1, 1);
          if (each.line === 'cut') line.cut();
          if (each.line === 'mend') line.mend();
        }
        line.mend();
        expect(a.snapshot()).toEqual(b.snapshot());
        expect(a.snapshot()).toEqual(project(a.ydoc));
        // A third, who gets both halves the other way round, sees the same.
        const third = coachAt(state, 303);
        Y.applyUpdate(
          third.ydoc,
          Y.mergeUpdates([Y.encodeStateAsUpdate(b.ydoc), Y.encodeStateAsUpdate(a.ydoc)]),
        );
        expect(third.snapshot()).toEqual(a.snapshot());
        edited += a.ydoc.store.clients.size + b.ydoc.store.clients.size;
      }),
      { numRuns: 40 },
    );
    expect(edited).toBeGreaterThan(60);
  });
});
