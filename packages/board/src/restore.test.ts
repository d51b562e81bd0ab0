import { edit, makeEdit } from '@stemline/testkit/edits';
import { fullBoard, handPlay } from '@stemline/testkit/plays';
import { coachAt } from '@stemline/testkit/two-coaches';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import { judge } from './judge.ts';
import { project } from './project.ts';
import { restoreTo } from './restore.ts';
import { newDocument, rootsOf } from './schema.ts';
import { Shadow } from './shadow.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

describe('a board restored to how it was', () => {
  it('says what it said then, in one update that the gate takes, whatever was done since', () => {
    let changed = 0;
    fc.assert(
      fc.property(
        fullBoard(),
        fc.array(edit(), { maxLength: 8 }),
        fc.array(edit(), { minLength: 1, maxLength: 12 }),
        (board, before, since) => {
          const coach = coachAt(createBoardState(board.play, board.notes), 101);
          for (const each of before) makeEdit(coach, each);
          const past = newDocument();
          Y.applyUpdate(past, Y.encodeStateAsUpdate(coach.ydoc));
          for (const each of since) makeEdit(coach, each);
          const state = Y.encodeStateAsUpdate(coach.ydoc);

          const ydoc = newDocument(202);
          Y.applyUpdate(ydoc, state);
          const parts: Uint8Array[] = [];
          ydoc.on('update', (part: Uint8Array) => parts.push(part));
          restoreTo(ydoc, past);
          expect(project(ydoc)).toEqual(project(past));
          expect(parts.length).toBeLessThanOrEqual(1);
          const [update] = parts;
          if (!update) {
            expect(project(coach.ydoc)).toEqual(project(past));
            return;
          }
          changed += 1;
          const verdict = judge({
            shadow: new Shadow(state),
            update,
            member: 'restorer',
            clients: (client) => (client === 202 ? undefined : 'somebody else'),
            mayBring: () => 1,
            scope: { kind: 'all' },
          });
          expect(verdict).toMatchObject({ ok: true, news: true });
          // A removal writes nothing of its own.
          if (verdict.ok) expect([[], [202]]).toContainEqual(verdict.clients);
        },
      ),
      { numRuns: 60 },
    );
    expect(changed).toBeGreaterThan(20);
  });

  it('leaves out what this build cannot read, and keeps its own document version', () => {
    const state = createBoardState(handPlay());
    const past = newDocument(7);
    Y.applyUpdate(past, state);
    rootsOf(past).maps.spots.set('H', 'nowhere');
    rootsOf(past).maps.meta.set('version', 99);
    rootsOf(past).maps.meta.set('name', 'Before');
    const now = newDocument(8);
    Y.applyUpdate(now, state);
    const spot = rootsOf(now).maps.spots.get('H');
    restoreTo(now, past);
    expect(rootsOf(now).maps.spots.get('H')).toEqual(spot);
    expect(rootsOf(now).maps.meta.get('version')).toBe(1);
    expect(project(now).board.play.name).toBe('Before');
  });
});
