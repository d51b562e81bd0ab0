import { Gate } from '@stemline/testkit/gate';
import { handPlay } from '@stemline/testkit/plays';
import { updateOf as updateFrom } from '@stemline/testkit/sender';
import { coachAt } from '@stemline/testkit/two-coaches';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { createBoardState } from './create.ts';
import { changedElements, describeChanges } from './diff.ts';
import { project } from './project.ts';
import { newDocument } from './schema.ts';

const call = { id: 'six-half', toward: 'left' } as const;
const bare = createBoardState(handPlay());
const withCall = createBoardState(handPlay({ protection: call }));

const shown = (state: Uint8Array) => {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  return project(ydoc);
};

describe('the protection of a board', () => {
  it('is kept from the play it is made of; a board without one reads as before', () => {
    expect(shown(withCall)).toMatchObject({
      unreadable: [],
      board: { play: { protection: call } },
    });
    expect(shown(bare).unreadable).toEqual([]);
    expect('protection' in shown(bare).board.play).toBe(false);
  });

  it('is set, taken back and taken away', () => {
    const coach = coachAt(bare, 7);
    const called = () => coach.snapshot().board.play.protection;
    expect(coach.setProtection(call)).toMatchObject({ ok: true });
    expect(called()).toEqual(call);
    coach.undo.undo();
    expect(called()).toBeUndefined();
    coach.setProtection(call);
    expect(coach.setProtection(null)).toMatchObject({ ok: true });
    expect(called()).toBeUndefined();
    expect(coach.setProtection({ ...call, id: 'nine-men' }).ok).toBe(false);
  });

  it('is told in words where it changes', () => {
    const [before, after] = [shown(bare), shown(withCall)];
    expect(changedElements(before, after)).toEqual(['meta/protection']);
    expect(describeChanges(before.board, after.board)).toEqual([
      'The protection is now “Six men, half slide, back away from it”, to the left (was not called)',
    ]);
  });

  it('may be taken off by the gate’s leave, a name may not; one that does not exist is refused', () => {
    const offer = (write: (ydoc: Y.Doc) => void) =>
      new Gate(withCall).offer('eve', updateFrom(write, 666, withCall));
    expect(offer((ydoc) => ydoc.getMap('meta').delete('protection'))).toMatchObject({ ok: true });
    expect(offer((ydoc) => ydoc.getMap('meta').delete('name'))).toMatchObject({ ok: false });
    expect(
      offer((ydoc) => ydoc.getMap('meta').set('protection', { ...call, id: 'nine-men' })),
    ).toMatchObject({ ok: false, code: 'schema' });
  });
});
