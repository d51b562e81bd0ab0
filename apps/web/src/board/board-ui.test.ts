import {
  defenderIdSchema,
  lookIdSchema,
  playerIdSchema,
  reactionIdSchema,
} from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import { describe, expect, it } from 'vitest';
import { type UiAction, uiAtFirst, uiStep } from './board-ui.ts';

const h = playerIdSchema.parse('h');
const z = playerIdSchema.parse('z');
const over = lookIdSchema.parse('over');
const n = defenderIdSchema.parse('n');
const rush = reactionIdSchema.parse('rush');
const look: AlignedLook = {
  id: over,
  name: 'Over',
  traits: { front: 'even', shell: 'oneHigh', middle: 'closed', coverage: 'zone' },
  defenders: [],
};
const after = (...actions: UiAction[]) => actions.reduce(uiStep, uiAtFirst);

describe('what one coach has on his page', () => {
  it('a look stands with its reactions chosen, until another one stands', () => {
    const stood = after(
      { do: 'standLook', look: over },
      { do: 'react', defender: n, reaction: rush },
    );
    expect(stood.defence).toEqual({ kind: 'shelf', look: over, reactions: { n: rush } });
    expect(uiStep(stood, { do: 'standLook', look: over }).defence).toMatchObject({ reactions: {} });
  });

  it('a finding brings its witness and card, and takes the witness away again', () => {
    const shown = after({
      do: 'showFinding',
      finding: 'gap-1',
      witness: { look, reactions: {} },
      card: h,
    });
    expect(shown).toMatchObject({ finding: 'gap-1', card: h, defence: { kind: 'witness' } });
    expect(uiStep(shown, { do: 'hideFinding' })).toMatchObject({
      finding: null,
      defence: { kind: 'none' },
    });
  });

  it('a finding without a witness leaves a look of the shelf standing', () => {
    const shown = after(
      { do: 'standLook', look: over },
      { do: 'showFinding', finding: 'noDefault-1', witness: null, card: h },
    );
    expect(shown.defence.kind).toBe('shelf');
  });

  it('what is selected is what he is at, until he takes up a row', () => {
    expect(after({ do: 'select', players: [h, z] }).about).toBe('players/h');
    const row = after({ do: 'select', players: [h] }, { do: 'about', element: 'rows/h.r1' });
    expect(row.about).toBe('rows/h.r1');
    expect(uiStep(row, { do: 'select', players: [] }).about).toBe('');
  });

  it('players who are gone are neither selected nor read', () => {
    const gone = after(
      { do: 'select', players: [h, z] },
      { do: 'openCard', player: h },
      { do: 'keepOnly', players: [z] },
    );
    expect(gone).toMatchObject({ selected: [z], card: null });
  });
});
