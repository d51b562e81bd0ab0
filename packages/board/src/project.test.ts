import { edit, makeEdit } from '@stemline/testkit/edits';
import { asPlayerId, boardPlay, fullBoard, handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { boardPlaySchema } from './board-play.ts';
import { createBoardState, inProjectedOrder } from './create.ts';
import { project } from './project.ts';
import { newDocument } from './schema.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

function opened(state: Uint8Array): Y.Doc {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  return ydoc;
}

describe('create and project', () => {
  it('project(create(x)) is x', () => {
    fc.assert(
      fc.property(boardPlay(), (board) => {
        const projection = project(opened(createBoardState(board.play, board.notes)));
        expect(projection.board).toEqual(inProjectedOrder(board));
        expect(projection).toMatchObject({ unreadable: [], orphans: [], version: 1 });
      }),
    );
  });

  it('the same play gives the same bytes', () => {
    fc.assert(
      fc.property(boardPlay(), (board) => {
        expect(createBoardState(board.play, board.notes)).toEqual(
          createBoardState(board.play, board.notes),
        );
      }),
      { numRuns: 20 },
    );
  });

  it('always gives a board that its schema accepts, whatever was edited', () => {
    fc.assert(
      fc.property(boardPlay(), fc.array(edit(), { maxLength: 20 }), (board, edits) => {
        const coach = coachAt(createBoardState(board.play, board.notes), 7);
        for (const each of edits) makeEdit(coach, each);
        expect(boardPlaySchema.safeParse(coach.snapshot().board).success).toBe(true);
      }),
    );
  });

  it('reads afresh what it read step by step', () => {
    fc.assert(
      fc.property(boardPlay(), fc.array(edit(), { maxLength: 20 }), (board, edits) => {
        const coach = coachAt(createBoardState(board.play, board.notes), 7);
        for (const each of edits) {
          makeEdit(coach, each);
          expect(coach.snapshot()).toEqual(project(coach.ydoc));
        }
      }),
      { numRuns: 40 },
    );
  });

  it('an empty document is a board on which nothing has come yet', () => {
    const projection = project(newDocument());
    expect(projection).toMatchObject({ version: null, unreadable: [], orphans: [] });
    expect(boardPlaySchema.safeParse(projection.board).success).toBe(true);
  });
});

describe('what cannot be read', () => {
  const broken = (root: string, key: string, value: unknown) => {
    const ydoc = opened(createBoardState(handPlay()));
    ydoc.getMap(root).set(key, value);
    return project(ydoc);
  };

  it.each([
    ['a place that is no place', 'spots', 'H', [1], 'players/H'],
    ['a place that is a shared type', 'spots', 'H', new Y.Map(), 'spots/H'],
    [
      'a label that is too long',
      'players',
      'H',
      { label: 'HALFBACK', position: 'WR', number: 1 },
      'players/H',
    ],
    ['a route without a point', 'routes', 'H', { stem: [] }, 'routes/H'],
    ['a name of another kind', 'meta', 'name', 7, 'meta/name'],
    ['a situation of old', 'meta', 'situation', { down: 5 }, 'meta/situation'],
    ['bytes', 'motions', 'H', new Uint8Array(3), 'motions/H'],
    ['a key that is no id', 'routes', '../H', {}, 'routes/../H'],
    ['a row without a player', 'rows', 'row1', {}, 'rows/row1'],
    ['a name that meta does not have', 'meta', 'secret', 1, 'meta/secret'],
  ])('%s is named, and the rest of the board is alive', (_, root, key, value, named) => {
    const { board, unreadable } = broken(root, key, value);
    expect(unreadable.map((each) => each.key)).toContain(named);
    expect(unreadable.every((each) => each.why.length > 0)).toBe(true);
    expect(board.play.players.length).toBeGreaterThanOrEqual(10);
    expect(boardPlaySchema.safeParse(board).success).toBe(true);
  });

  it('a player without a place cannot be shown; he is named, not lost', () => {
    const ydoc = opened(createBoardState(handPlay()));
    ydoc.getMap('spots').delete('H');
    const { board, unreadable } = project(ydoc);
    expect(unreadable).toEqual([{ key: 'players/H', why: 'he has no place on the field' }]);
    expect(board.play.players).toHaveLength(10);
  });

  it('a twelfth player is named, the same one on every machine', () => {
    const ydoc = opened(createBoardState(handPlay()));
    ydoc.getMap('players').set('AA', { label: 'A', position: 'WR', number: 1 });
    ydoc.getMap('spots').set('AA', [0, -3]);
    const { board, unreadable } = project(ydoc);
    expect(board.play.players).toHaveLength(11);
    expect(unreadable.map((each) => each.key)).toEqual(['players/Z']);
  });

  it('what is left of a player who is gone is an orphan, quietly', () => {
    const ydoc = opened(createBoardState(handPlay()));
    ydoc.getMap('spots').set('gone', [0, -3]);
    ydoc
      .getMap('rows')
      .set('H.r1', { id: 'r1', conditions: [], branch: 'b', says: '', order: 'a0' });
    expect(project(ydoc)).toMatchObject({ unreadable: [], orphans: ['rows/H.r1', 'spots/gone'] });
  });
});

describe('sharing', () => {
  it('keeps the identity of everything that one move leaves alone', () => {
    fc.assert(
      fc.property(
        boardPlay().filter(({ play }) => play.players.length > 1),
        (board) => {
          const coach = coachAt(createBoardState(board.play, board.notes), 7);
          const before = coach.snapshot();
          const [first, ...others] = before.board.play.players;
          expect(coach.snapshot()).toBe(before);
          coach.movePlayer(first?.id ?? asPlayerId('none'), [25.5, -9.5]);
          const after = coach.snapshot();
          expect(after).not.toBe(before);
          expect(after.board.notes).toBe(before.board.notes);
          expect(after.board.play.cards).toBe(before.board.play.cards);
          expect(after.board.play.routes).toBe(before.board.play.routes);
          expect(after.board.play.situation).toBe(before.board.play.situation);
          others.forEach((player, i) => {
            expect(after.board.play.players[i + 1]).toBe(player);
          });
        },
      ),
      { numRuns: 40 },
    );
  });

  it('shares as well with an earlier projection that it is given', () => {
    fc.assert(
      fc.property(fullBoard(), (board) => {
        const state = createBoardState(board.play, board.notes);
        const ydoc = opened(state);
        const before = project(ydoc);
        expect(project(ydoc, before)).toBe(before);
        ydoc.getMap('spots').set('H', [0, -1]);
        const after = project(ydoc, before);
        expect(after.board.play.cards).toBe(before.board.play.cards);
        expect(after.board.play.routes).toBe(before.board.play.routes);
        expect(after.board.notes).toBe(before.board.notes);
        expect(after.board.play).not.toBe(before.board.play);
      }),
      { numRuns: 20 },
    );
  });

  it('is frozen to its leaves', () => {
    fc.assert(
      fc.property(boardPlay(), (board) => {
        const isFrozen = (value: unknown): boolean =>
          typeof value !== 'object' ||
          value === null ||
          (Object.isFrozen(value) && Object.values(value).every(isFrozen));
        expect(isFrozen(project(opened(createBoardState(board.play, board.notes))))).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
});
