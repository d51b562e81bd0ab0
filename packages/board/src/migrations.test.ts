import { edit, makeEdit } from '@stemline/testkit/edits';
import { fullBoard, handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import {
  boardFromState,
  documentVersion,
  type Migration,
  migrations,
  versionAfter,
} from './migrations.ts';
import { project } from './project.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const state = createBoardState(handPlay());
/** The stored state with something else written to it. */
const changed = (change: (ydoc: Y.Doc) => void): Uint8Array => {
  const ydoc = new Y.Doc();
  Y.applyUpdate(ydoc, state);
  change(ydoc);
  return Y.encodeStateAsUpdate(ydoc);
};

describe('boardFromState', () => {
  it('opens what any editing left behind, at this version, without a step', () => {
    fc.assert(
      fc.property(fullBoard(), fc.array(edit(), { maxLength: 10 }), (board, edits) => {
        const coach = coachAt(createBoardState(board.play, board.notes), 7);
        for (const each of edits) makeEdit(coach, each);
        const opened = boardFromState(Y.encodeStateAsUpdate(coach.ydoc));
        if (!opened.ok) throw new Error(opened.code);
        expect(opened).toMatchObject({ from: documentVersion, steps: [] });
        expect(project(opened.ydoc)).toEqual(coach.snapshot());
      }),
      { numRuns: 30 },
    );
  });

  it('a document of a newer build is told apart, not read and not broken', () => {
    const newer = changed((ydoc) => ydoc.getMap('meta').set('version', documentVersion + 1));
    expect(boardFromState(newer)).toEqual({
      ok: false,
      code: 'newer',
      version: documentVersion + 1,
    });
  });

  it.each([
    ['garbage', Uint8Array.of(9, 9, 9)],
    ['nothing', new Uint8Array()],
    ['an empty document', Y.encodeStateAsUpdate(new Y.Doc())],
    ['a version that is none', changed((ydoc) => ydoc.getMap('meta').set('version', 'one'))],
    ['a version of zero', changed((ydoc) => ydoc.getMap('meta').set('version', 0))],
    [
      'half a history',
      ((): Uint8Array => {
        const ydoc = new Y.Doc();
        Y.applyUpdate(ydoc, state);
        const before = Y.encodeStateVector(ydoc);
        ydoc.getMap('spots').delete('H');
        ydoc.getMap('meta').set('name', 'Later');
        return Y.encodeStateAsUpdate(ydoc, before);
      })(),
    ],
  ])('%s is unreadable, with the reason', (_, bytes) => {
    const opened = boardFromState(bytes);
    expect(opened).toMatchObject({ ok: false, code: 'unreadable' });
  });
});

describe('the mechanism', () => {
  // Two steps that no release has: they only show that steps run, in order, once each.
  const steps: readonly Migration[] = [
    {
      to: 2,
      says: 'names in capitals',
      up: ({ maps }) => maps.meta.set('name', String(maps.meta.get('name')).toUpperCase()),
    },
    {
      to: 3,
      says: 'names with a mark',
      up: ({ maps }) => maps.meta.set('name', `${String(maps.meta.get('name'))}!`),
    },
  ];

  it('runs what is due, in order, in one transaction', () => {
    const opened = boardFromState(state, { steps, clientId: 42 });
    if (!opened.ok) throw new Error(opened.code);
    expect(opened).toMatchObject({ from: 1, steps });
    expect(opened.ydoc.getMap('meta').toJSON()).toMatchObject({ name: 'HARBOUR!', version: 3 });
    expect([...opened.ydoc.store.clients.keys()].sort()).toEqual([1, 42]);
  });

  it('runs nothing twice', () => {
    const first = boardFromState(state, { steps });
    if (!first.ok) throw new Error(first.code);
    const again = boardFromState(Y.encodeStateAsUpdate(first.ydoc), { steps });
    if (!again.ok) throw new Error(again.code);
    expect(again.steps).toEqual([]);
    expect(Y.encodeStateAsUpdate(again.ydoc)).toEqual(Y.encodeStateAsUpdate(first.ydoc));
  });

  it('begins in the middle', () => {
    const opened = boardFromState(
      changed((ydoc) => ydoc.getMap('meta').set('version', 2)),
      { steps },
    );
    if (!opened.ok) throw new Error(opened.code);
    expect(opened.steps.map((step) => step.to)).toEqual([3]);
    expect(opened.ydoc.getMap('meta').get('name')).toBe('Harbour!');
  });

  it('the steps of this build are numbered without a gap, and end at its version', () => {
    expect(migrations.map((step) => step.to)).toEqual(migrations.map((_, i) => i + 2));
    expect(versionAfter(migrations)).toBe(documentVersion);
  });
});
