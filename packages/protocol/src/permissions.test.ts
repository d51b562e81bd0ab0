import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Action, may, permissions } from './permissions.ts';
import { type Role, roleSchema } from './roles.ts';

const actions = Object.keys(permissions) as Action[];

/** The table as one can read it: a line an action, H C P A p for who may. */
const table = actions.map((action) => {
  const letters: Record<Role, string> = {
    headCoach: 'H',
    coordinator: 'C',
    positionCoach: 'P',
    assistant: 'A',
    player: 'p',
  };
  return `${action.padEnd(24)} ${roleSchema.options.map((role) => (may(role, action) ? letters[role] : '·')).join('')}`;
});

describe('rights', () => {
  it('are these', () => {
    expect(table).toMatchInlineSnapshot(`
      [
        "book.read                HCPAp",
        "board.open               HCPA·",
        "board.editAll            HC···",
        "board.editGroup          ··P··",
        "board.editWhereLetIn     ···A·",
        "board.create             HCP··",
        "board.archive            HC···",
        "board.letIn              HC···",
        "comment.read             HCPA·",
        "comment.write            HCPA·",
        "comment.resolve          HCPA·",
        "finding.read             HCPA·",
        "finding.waive            H····",
        "change.sendUp            HCP··",
        "change.decide            H····",
        "change.read              HCPA·",
        "version.read             HCPAp",
        "look.read                HCPA·",
        "look.edit                HCPA·",
        "member.read              HCPA·",
        "member.invite            HC···",
        "member.inviteHeadCoach   H····",
        "member.change            H····",
        "audit.read               HC···",
        "staff.export             H····",
      ]
    `);
  });

  it('a head coach may all that a coordinator may, and so on down, but for doors made for one role', () => {
    // An own door: what makes sense for this role only, since those above need no door.
    const doors: readonly Action[] = ['board.editGroup', 'board.editWhereLetIn'];
    const ranks: readonly Role[] = roleSchema.options;
    fc.assert(
      fc.property(fc.constantFrom(...actions), fc.nat({ max: 3 }), (action, i) => {
        const [above, below] = [ranks[i], ranks[i + 1]];
        if (above === undefined || below === undefined || doors.includes(action)) return;
        if (may(below, action)) expect(may(above, action)).toBe(true);
      }),
    );
  });

  it('a player reads what is signed off, and does nothing else', () => {
    expect(actions.filter((action) => may('player', action))).toEqual([
      'book.read',
      'version.read',
    ]);
  });

  it('only the head coach decides, waives and changes who is who', () => {
    const only = actions.filter(
      (action) => permissions[action].length === 1 && may('headCoach', action),
    );
    expect(only).toEqual(
      expect.arrayContaining(['finding.waive', 'change.decide', 'member.change']),
    );
  });
});
