import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Pass, sharing } from './access.ts';

/** Texts made anew each time, as the database hands them over. */
const text = fc.constantFrom('one', 'two').map((of) => of.split('').join(''));

const asMade = { noNullPrototype: true } as const;

const pass: fc.Arbitrary<Pass> = fc.record(
  {
    boardId: text,
    staffId: text,
    userId: text,
    sessionId: text,
    member: fc.record(
      {
        id: text,
        name: text,
        role: fc.constantFrom('coordinator', 'assistant'),
        group: fc.constantFrom('all', 'line'),
      },
      asMade,
    ),
    scope: fc.constantFrom({ kind: 'all' }, { kind: 'none' }),
    sessionEnds: fc.nat(),
    decidedAt: fc.nat(),
  },
  asMade,
);

describe('the passes of one person', () => {
  it('say the same whether they share anything or not', () => {
    fc.assert(
      fc.property(pass, pass, (own, known) => {
        expect(sharing(own, known)).toEqual(own);
      }),
    );
  });

  it('hold the member once where he is the same, and each his own where he is not', () => {
    fc.assert(
      fc.property(pass, pass, (own, known) => {
        const isSame = JSON.stringify(own.member) === JSON.stringify(known.member);
        expect(sharing(own, known).member).toBe(isSame ? known.member : own.member);
      }),
    );
  });
});
