import { builtInLooks } from '@stemline/football/shelf';
import { samePage } from '@stemline/read-rules/same-page/same-page';
import { card, doubles, is, row } from '@stemline/read-rules/testing/cards';
import { describe, expect, it } from 'vitest';
import { groupsOf, linesOf, offCount } from './groups.ts';

const play = doubles([
  card([row('comes', 'in', is('keyRushes', true)), row('stays', 'out', is('keyRushes', false))]),
]);
const page = samePage(play, builtInLooks.slice(0, 6));

describe('lines of the table', () => {
  it('tell every cell once, and one answer in each line', () => {
    for (const look of page.looks) {
      const groups = groupsOf(look);
      expect(groups.flatMap(({ cells }) => cells)).toHaveLength(look.cells.length);
      for (const { cells } of groups) {
        expect(new Set(cells.map(({ readings }) => readings[0]?.branch)).size).toBe(1);
      }
      expect(groups.length).toBeLessThan(look.cells.length);
    }
  });

  it('begin with what is called', () => {
    for (const look of page.looks) expect(groupsOf(look)[0]?.cells[0].isCalled).toBe(true);
  });

  it('are none where only what is off is wanted and all are on the page', () => {
    expect(offCount(page)).toBe(0);
    expect(linesOf(page, true)).toEqual([]);
    expect(linesOf(page, false)).toHaveLength(6);
  });
});
