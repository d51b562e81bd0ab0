import type { Point } from '@stemline/football/geometry';
import { describe, expect, it } from 'vitest';
import { type InTheWay, type LineName, placeNames } from './names.ts';

const view = { left: -20, bottom: -8, width: 40, height: 30 };
const free: InTheWay = { men: [], lines: [], view };
const name = (text: string, ...points: Point[]): LineName => ({ id: text, text, size: 1, points });
const at = (names: readonly LineName[], id: string, way: InTheWay = free): Point => {
  const place = placeNames(names, way).get(id);
  if (!place) throw new Error(`${id} has no place`);
  return place;
};

describe('the name of a line', () => {
  it('stands straight on from its end, clear of it', () => {
    expect(at([name('IN', [5, 6], [-2, 6])], 'IN')[0]).toBeLessThan(-2.7);
    expect(at([name('SIT', [5, 0], [5, 6])], 'SIT')[1]).toBeGreaterThan(6.5);
  });

  it('makes room for one that stands there already', () => {
    const names = [name('IN', [5, 6], [-2, 6]), name('ALSO IN', [5, 6], [-2, 6.3])];
    expect(Math.abs(at(names, 'IN')[1] - at(names, 'ALSO IN')[1])).toBeGreaterThan(1);
  });

  it('covers no man, and no line where there is room beside it', () => {
    const out = [name('OUT', [5, 6], [10, 6])];
    const man = at(out, 'OUT', { ...free, men: [{ at: [11.5, 6], radius: 0.64 }] });
    expect(Math.hypot(man[0] - 11.5, man[1] - 6)).toBeGreaterThan(1.2);
    const line = at(out, 'OUT', {
      ...free,
      lines: [
        [
          [11, 0],
          [11, 12],
        ],
      ],
    });
    expect(Math.abs(line[0] - 11)).toBeGreaterThan(1);
  });

  it('stays in the picture', () => {
    const [x] = at([name('GO OUTSIDE', [15, 6], [19.5, 6])], 'GO OUTSIDE');
    expect(x + 3.5).toBeLessThanOrEqual(view.left + view.width + 1e-9);
  });
});
