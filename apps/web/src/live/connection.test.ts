import type { Refused } from '@stemline/protocol/message';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atFirst, connectionOf, type Happening, step } from './connection.ts';

const refused: Refused = {
  code: 'scope',
  why: 'this is not yours to change',
  mend: 'ask a coordinator',
  elements: ['spots/h'],
};
const after = (...happenings: Happening[]) => connectionOf(happenings.reduce(step, atFirst));

describe('what the coach is told', () => {
  it.each<[string, Happening[], ReturnType<typeof after>]>([
    ['connecting before the room has been met', [], { kind: 'connecting', unsaved: 0, kept: true }],
    [
      'offline when the room was never reached',
      [{ type: 'opening' }, { type: 'down' }],
      { kind: 'offline', unsaved: 0, kept: true },
    ],
    ['saved once in step', [{ type: 'opening' }, { type: 'synced' }], { kind: 'saved' }],
    [
      'saving while an edit is not durable',
      [{ type: 'synced' }, { type: 'unsaved', count: 2 }],
      { kind: 'saving', unsaved: 2, behind: false },
    ],
    [
      'that the store does not answer',
      [{ type: 'synced' }, { type: 'unsaved', count: 1 }, { type: 'behind', behind: true }],
      { kind: 'saving', unsaved: 1, behind: true },
    ],
    [
      'offline with what is unsaved, while it tries again',
      [{ type: 'synced' }, { type: 'unsaved', count: 3 }, { type: 'down' }, { type: 'opening' }],
      { kind: 'offline', unsaved: 3, kept: true },
    ],
    [
      'closed when the room does not want the page back',
      [{ type: 'synced' }, { type: 'down' }, { type: 'closed', code: 4403 }],
      { kind: 'closed', code: 4403, unsaved: 0 },
    ],
    [
      'refused until it is read, though the link stands again',
      [{ type: 'synced' }, { type: 'refused', refused }, { type: 'opening' }, { type: 'synced' }],
      { kind: 'refused', refused, work: null },
    ],
    [
      'what was refused, in words',
      [
        { type: 'synced' },
        { type: 'refused', refused },
        { type: 'synced' },
        { type: 'compared', work: ['H moved'] },
      ],
      { kind: 'refused', refused, work: ['H moved'] },
    ],
    [
      'saved after a refusal was read',
      [
        { type: 'synced' },
        { type: 'unsaved', count: 1 },
        { type: 'refused', refused },
        { type: 'synced' },
        { type: 'dismissed' },
      ],
      { kind: 'saved' },
    ],
  ])('%s', (_name, happenings, told) => {
    expect(after(...happenings)).toEqual(told);
  });

  it('is never saved while anything is unsaved, refused or out of step', () => {
    const happening: fc.Arbitrary<Happening> = fc.oneof(
      fc.constantFrom<Happening>(
        { type: 'opening' },
        { type: 'synced' },
        { type: 'down' },
        { type: 'dismissed' },
        { type: 'refused', refused },
        { type: 'closed', code: 4404 },
      ),
      fc.nat(3).map((count): Happening => ({ type: 'unsaved', count })),
    );
    fc.assert(
      fc.property(fc.array(happening, { maxLength: 30 }), (happenings) => {
        const model = happenings.reduce(step, atFirst);
        if (connectionOf(model).kind !== 'saved') return;
        expect(model).toMatchObject({ unsaved: 0, refused: null, closed: null, link: 'synced' });
      }),
    );
  });
});
