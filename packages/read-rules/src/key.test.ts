import type { Defender } from '@stemline/football/look';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';
import { selectKey } from './key.ts';
import { card, defender, doubles, h, head, look, slot } from './testing/cards.ts';

const [x] = slot();
const select = (
  defenders: readonly Defender[],
  change: Partial<ReturnType<typeof head>['key']> = {},
) => selectKey(doubles(), card([], { key: { ...head().key, ...change } }), look(...defenders));
const keyOf = (...args: Parameters<typeof select>): string => {
  const result = select(...args);
  return result.kind === 'one' ? result.defender.id : result.kind;
};

describe('the key', () => {
  const near = defender('near', 'second', [x - 2, 5]);
  const far = defender('far', 'second', [x - 4, 5]);

  it('R1 is the first man from head-up inside', () => {
    expect(keyOf([far, near])).toBe('near');
    expect(keyOf([far, near], { direction: 'outside' })).toBe('none');
  });

  it('R1 may stand a little on the wrong side, no more', () => {
    const headUp = defender('headup', 'second', [x + 0.5, 5]);
    const outside = defender('outside', 'second', [x + 0.6, 5]);
    expect(keyOf([headUp, near])).toBe('headup');
    expect(keyOf([outside, near])).toBe('near');
  });

  it('R1 is never a deep safety, by his level or by his depth', () => {
    const safety = defender('safety', 'deep', [x - 1, 6]);
    const backed = defender('backed', 'second', [x - 1, 8.1]);
    expect(keyOf([safety, near])).toBe('near');
    expect(keyOf([backed, near])).toBe('near');
    expect(keyOf([defender('limit', 'second', [x - 1, 8]), near])).toBe('limit');
  });

  it('R1 lies within reach, its end included', () => {
    expect(keyOf([defender('edge', 'second', [x - 8, 5])])).toBe('edge');
    expect(keyOf([defender('edge', 'second', [x - 8.01, 5])])).toBe('none');
  });

  it('R2 is the shallower of two abreast, and a tie when depth does not tell them apart', () => {
    const stacked = defender('stacked', 'line', [x - 2.4, 0.8]);
    expect(keyOf([near, stacked])).toBe('stacked');
    expect(keyOf([near, defender('twin', 'second', [x - 2.5, 5.5])])).toBe('tie');
    expect(keyOf([near, defender('apart', 'second', [x - 2.51, 5])])).toBe('near');
  });

  it('R3 counts inside toward the ball on either side of it', () => {
    const left = doubles().players.find(({ label }) => label === 'A');
    expect(left?.at[0]).toBeLessThan(0);
    if (!left) return;
    const inside = look(defender('inside', 'second', [left.at[0] + 2, 5]));
    const read = { ...card([]), player: left.id };
    expect(selectKey(doubles(), read, inside).kind).toBe('one');
    expect(selectKey(doubles(), card([]), inside).kind).toBe('none');
  });

  it('R3 starts from where a man stands after his motion', () => {
    const play = doubles();
    const moved = {
      ...play,
      motions: { [h]: { path: [[2, 0] as const], atSnap: 'set' as const } },
    };
    const spot = look(defender('here', 'second', [x + 1.8, 5]));
    expect(selectKey(play, card([]), spot).kind).toBe('none');
    expect(selectKey(moved, card([]), spot).kind).toBe('one');
  });

  it('R1 is nobody when the man to start over has left the field', () => {
    const gone = { ...doubles(), players: [] };
    expect(selectKey(gone, card([]), look(near)).kind).toBe('none');
  });

  it('R1 is never a deep man on any built-in look', () => {
    const found = builtInLooks.map((recipe) =>
      selectKey(doubles(), card([]), alignLook(recipe, doubles())),
    );
    expect(found.filter(({ kind }) => kind === 'one').length).toBeGreaterThan(10);
    for (const result of found) {
      if (result.kind === 'one') expect(result.defender.level).not.toBe('deep');
    }
  });
});
