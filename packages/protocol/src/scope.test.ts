import { positionSchema } from '@stemline/football/play';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { may } from './permissions.ts';
import { groupSchema, roleSchema } from './roles.ts';
import { editScope } from './scope.ts';

const member = fc.record({
  role: fc.constantFrom(...roleSchema.options),
  group: fc.constantFrom(...groupSchema.options),
  letIn: fc.boolean(),
});
const words = (scope: ReturnType<typeof editScope>): string =>
  scope.kind === 'positions' ? scope.positions.join(' ') : scope.kind;

describe('what of a board a member may change', () => {
  it('is this', () => {
    const table = roleSchema.options.flatMap((role) =>
      groupSchema.options.map((group) => {
        const [shut, open] = [false, true].map((letIn) => words(editScope({ role, group, letIn })));
        return `${role.padEnd(14)} ${group.padEnd(13)} ${shut?.padEnd(22)} let in: ${open}`;
      }),
    );
    expect(table).toMatchInlineSnapshot(`
      [
        "headCoach      all           all                    let in: all",
        "headCoach      line          all                    let in: all",
        "headCoach      receivers     all                    let in: all",
        "headCoach      tightEnds     all                    let in: all",
        "headCoach      backs         all                    let in: all",
        "headCoach      quarterbacks  all                    let in: all",
        "coordinator    all           all                    let in: all",
        "coordinator    line          all                    let in: all",
        "coordinator    receivers     all                    let in: all",
        "coordinator    tightEnds     all                    let in: all",
        "coordinator    backs         all                    let in: all",
        "coordinator    quarterbacks  all                    let in: all",
        "positionCoach  all           all                    let in: all",
        "positionCoach  line          C G T                  let in: all",
        "positionCoach  receivers     WR TE                  let in: all",
        "positionCoach  tightEnds     TE                     let in: all",
        "positionCoach  backs         RB                     let in: all",
        "positionCoach  quarterbacks  QB                     let in: all",
        "assistant      all           none                   let in: all",
        "assistant      line          none                   let in: all",
        "assistant      receivers     none                   let in: all",
        "assistant      tightEnds     none                   let in: all",
        "assistant      backs         none                   let in: all",
        "assistant      quarterbacks  none                   let in: all",
        "player         all           none                   let in: none",
        "player         line          none                   let in: none",
        "player         receivers     none                   let in: none",
        "player         tightEnds     none                   let in: none",
        "player         backs         none                   let in: none",
        "player         quarterbacks  none                   let in: none",
      ]
    `);
  });

  it('to let somebody in never takes anything away', () => {
    fc.assert(
      fc.property(member, ({ role, group }) => {
        const [shut, open] = [false, true].map((letIn) => editScope({ role, group, letIn }));
        if (shut?.kind === 'all') expect(open?.kind).toBe('all');
        if (shut?.kind === 'positions') expect(open?.kind).not.toBe('none');
      }),
    );
  });

  it('nobody edits who may not open a board', () => {
    fc.assert(
      fc.property(member, (who) => {
        if (!may(who.role, 'board.open')) expect(editScope(who)).toEqual({ kind: 'none' });
      }),
    );
  });

  it('every position is in some group, and a scope of positions is never empty', () => {
    const scopes = groupSchema.options
      .filter((group) => group !== 'all')
      .map((group) => editScope({ role: 'positionCoach', group, letIn: false }));
    const covered = new Set(
      scopes.flatMap((scope) => (scope.kind === 'positions' ? scope.positions : [])),
    );
    expect([...covered].sort()).toEqual([...positionSchema.options].sort());
    expect(scopes.every((scope) => scope.kind === 'positions' && scope.positions.length > 0)).toBe(
      true,
    );
  });
});
