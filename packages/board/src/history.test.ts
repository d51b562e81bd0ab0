import { edit, makeEdit } from '@stemline/testkit/edits';
import { asPlayerId, boardPlay, fullBoard, handPlay } from '@stemline/testkit/plays';
import { twoCoaches } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { maxUndoSteps } from './limits.ts';
import { mapRoots, newDocument, rootsOf } from './schema.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const H = asPlayerId('H');
const placeOf = (coach: { snapshot: ReturnType<typeof twoCoaches>['a']['snapshot'] }) =>
  coach.snapshot().board.play.players.find((player) => player.id === H)?.at;

describe('undo', () => {
  it('takes back and does again, step by step', () => {
    const { a } = twoCoaches();
    const start = placeOf(a);
    a.movePlayer(H, [-6, -1]);
    a.movePlayer(H, [-5, -1]);
    expect(a.undo.undo()).toBe(true);
    expect(placeOf(a)).toEqual([-6, -1]);
    expect(a.undo.undo()).toBe(true);
    expect(placeOf(a)).toEqual(start);
    expect(a.undo.undo()).toBe(false);
    a.undo.redo();
    a.undo.redo();
    expect(placeOf(a)).toEqual([-5, -1]);
    expect(a.undo.canRedo()).toBe(false);
  });

  it('brings a removed player back with all that was his, in one step', () => {
    fc.assert(
      fc.property(
        boardPlay().filter(({ play }) => play.players.length > 0),
        (board) => {
          const { a } = twoCoaches(board);
          const before = a.snapshot().board;
          a.removePlayer(before.play.players[0]?.id ?? H);
          a.undo.undo();
          expect(a.snapshot().board).toEqual(before);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('several edits made together are one step and one transaction', () => {
    const { a } = twoCoaches();
    const before = a.snapshot().board;
    let transactions = 0;
    a.ydoc.on('afterTransaction', () => {
      transactions += 1;
    });
    const result = a.together(() => {
      a.movePlayer(H, [-6, -1]);
      a.clearRoute(H);
      return a.setName('Ledger, mirrored');
    });
    expect(result).toEqual({ ok: true });
    expect(transactions).toBe(1);
    expect(a.undo.undo()).toBe(true);
    expect(a.snapshot().board).toEqual(before);
    expect(a.undo.canUndo()).toBe(false);
  });

  it('an edit that changes nothing is no step', () => {
    const { a } = twoCoaches();
    const size = Y.encodeStateAsUpdate(a.ydoc).length;
    a.setName(a.snapshot().board.play.name);
    a.movePlayer(H, placeOf(a) ?? [0, 0]);
    expect(a.undo.canUndo()).toBe(false);
    expect(Y.encodeStateAsUpdate(a.ydoc)).toHaveLength(size);
  });

  it('a new edit ends what could be done again', () => {
    const { a } = twoCoaches();
    a.setName('One');
    a.undo.undo();
    a.setName('Two');
    expect(a.undo.canRedo()).toBe(false);
  });

  it('remembers a bounded number of steps', () => {
    const { a } = twoCoaches();
    for (let i = 0; i < maxUndoSteps + 50; i++) a.setName(`Play ${i}`);
    let steps = 0;
    while (a.undo.undo()) steps += 1;
    expect(steps).toBe(maxUndoSteps);
    expect(a.snapshot().board.play.name).toBe('Play 49');
  });

  it('tells its listeners, and stops when asked', () => {
    const { a } = twoCoaches();
    let calls = 0;
    const stop = a.undo.subscribe(() => {
      calls += 1;
    });
    a.setName('One');
    a.undo.undo();
    stop();
    a.setName('Two');
    expect(calls).toBe(2);
  });
});

describe("undo leaves others' work alone", () => {
  it("a colleague's deletion stays (Yjs' own manager brings the value back)", () => {
    const { a, b, line } = twoCoaches({
      play: handPlay({ motions: { [H]: { path: [[1, 0]], atSnap: 'set' } } as never }),
      notes: [],
    });
    a.setMotion(H, { path: [[3, 0]], atSnap: 'moving' });
    line.settle();
    b.clearMotion(H);
    line.settle();
    expect(a.undo.undo()).toBe(false);
    expect(a.snapshot().board.play.motions).toEqual({});
  });

  it("a colleague's move between two of mine stays (Yjs' own manager overwrites it)", () => {
    const { a, b, line } = twoCoaches();
    a.movePlayer(H, [-6, -1]);
    line.settle();
    b.movePlayer(H, [-4, -1]);
    line.settle();
    a.movePlayer(H, [-2, -1]);
    expect(a.undo.undo()).toBe(true);
    expect(placeOf(a)).toEqual([-4, -1]);
    expect(a.undo.undo()).toBe(false);
    expect(placeOf(a)).toEqual([-4, -1]);
  });

  it("Yjs' own manager still does both: the day it does not, ours may go", () => {
    const sync = (from: Y.Doc, to: Y.Doc): void =>
      Y.applyUpdate(to, Y.encodeStateAsUpdate(from), 'wire');
    const run = (
      steps: (a: Y.Map<unknown>, b: Y.Map<unknown>, both: () => void) => void,
    ): unknown => {
      const a = newDocument(1);
      const b = newDocument(2);
      const both = (): void => {
        sync(a, b);
        sync(b, a);
      };
      a.getMap('spots').set('H', 'start');
      both();
      const manager = new Y.UndoManager([a.getMap('spots')], { captureTimeout: 0 });
      steps(a.getMap('spots'), b.getMap('spots'), both);
      while (manager.undo() !== null);
      return a.getMap('spots').get('H');
    };
    const deleted = run((a, b, both) => {
      a.set('H', 'mine');
      both();
      b.delete('H');
      both();
    });
    const between = run((a, b, both) => {
      a.set('H', 'mine');
      both();
      b.set('H', 'theirs');
      both();
      a.set('H', 'mine again');
    });
    expect([deleted, between]).toEqual(['start', 'start']);
  });

  it('never takes back what a colleague did last, whatever both did', () => {
    type Turn =
      | { who: 'a' | 'b'; edit: Parameters<typeof makeEdit>[1] }
      | { who: 'undo' | 'redo' | 'line' };
    const turn: fc.Arbitrary<Turn> = fc.oneof(
      {
        weight: 3,
        arbitrary: fc.record({ who: fc.constantFrom('a' as const, 'b' as const), edit: edit() }),
      },
      {
        weight: 3,
        arbitrary: fc.record({
          who: fc.constantFrom('undo' as const, 'redo' as const, 'line' as const),
        }),
      },
    );
    let undone = 0;
    let guarded = 0;
    fc.assert(
      fc.property(fullBoard(), fc.array(turn, { minLength: 10, maxLength: 40 }), (board, turns) => {
        const { a, b, line } = twoCoaches(board);
        const { maps } = rootsOf(a.ydoc);
        const theirs = new Map<string, unknown>();
        // Who wrote each value last, as a sees it: an edit of its own ends a colleague's say.
        a.ydoc.on('afterTransaction', (transaction: Y.Transaction) => {
          for (const root of mapRoots) {
            for (const key of transaction.changed.get(maps[root] as never) ?? []) {
              if (transaction.origin === line)
                theirs.set(`${root}/${key}`, maps[root].get(key ?? ''));
              else if (!taking) theirs.delete(`${root}/${key}`);
            }
          }
        });
        let taking = false;
        for (const each of turns) {
          if (each.who === 'line') line.settle();
          else if (each.who === 'a') makeEdit(a, each.edit);
          else if (each.who === 'b') makeEdit(b, each.edit);
          else {
            taking = true;
            if (each.who === 'undo' ? a.undo.undo() : a.undo.redo()) undone += 1;
            taking = false;
            for (const [name, value] of theirs) {
              const [root, key] = [
                name.slice(0, name.indexOf('/')),
                name.slice(name.indexOf('/') + 1),
              ];
              expect(maps[root as (typeof mapRoots)[number]].get(key)).toBe(value);
              guarded += 1;
            }
          }
        }
      }),
      { numRuns: 80 },
    );
    expect(undone).toBeGreaterThan(100);
    expect(guarded).toBeGreaterThan(100);
  });
});
