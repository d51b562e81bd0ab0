import { dropIdSchema, usualDrops } from '@stemline/football/footwork/drop';
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

const bare = createBoardState(handPlay());
const withDrop = createBoardState(handPlay({ drop: 'gun-three-step' }));

const shown = (state: Uint8Array) => {
  const ydoc = newDocument();
  Y.applyUpdate(ydoc, state);
  return project(ydoc);
};

describe('the passer’s drop of a board', () => {
  it('is one of the drops there are', () => {
    expect(dropIdSchema.options).toEqual(usualDrops.map(({ id }) => id));
  });

  it('is kept from the play it is made of; a board without one reads as before', () => {
    expect(shown(withDrop)).toMatchObject({
      unreadable: [],
      board: { play: { drop: 'gun-three-step' } },
    });
    expect(shown(bare).unreadable).toEqual([]);
    expect('drop' in shown(bare).board.play).toBe(false);
  });

  it('is set, taken back and taken away', () => {
    const coach = coachAt(bare, 7);
    const drop = () => coach.snapshot().board.play.drop;
    expect(coach.setDrop('five-step')).toMatchObject({ ok: true });
    expect(drop()).toBe('five-step');
    coach.undo.undo();
    expect(drop()).toBeUndefined();
    coach.setDrop('boot');
    expect(coach.setDrop(null)).toMatchObject({ ok: true });
    expect(drop()).toBeUndefined();
  });

  it('is told in words where it changes', () => {
    const [before, after] = [shown(bare), shown(withDrop)];
    expect(changedElements(before, after)).toEqual(['meta/drop']);
    expect(describeChanges(before.board, after.board)).toEqual([
      'The passer’s drop is now “3-step from the shotgun” (was as suits his first man)',
    ]);
  });

  it('may be taken off by the gate’s leave; one that does not exist is refused', () => {
    const offer = (write: (ydoc: Y.Doc) => void) =>
      new Gate(withDrop).offer('eve', updateFrom(write, 666, withDrop));
    expect(offer((ydoc) => ydoc.getMap('meta').delete('drop'))).toMatchObject({ ok: true });
    expect(offer((ydoc) => ydoc.getMap('meta').set('drop', 'nine-step'))).toMatchObject({
      ok: false,
      code: 'schema',
    });
  });
});
