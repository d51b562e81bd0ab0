import type { Move } from '@stemline/football/look';
import { describe, expect, it } from 'vitest';
import type { Finish } from '../card.ts';
import { branch, card, defender, doubles, row, slot } from '../testing/cards.ts';
import { progressionOf } from '../throws/planned.ts';
import { type FreeDefender, freeDefender } from './defender-clock.ts';

const [x, y] = slot();

function thrown(finish: Finish) {
  const play = doubles([{ ...card([row('always', 'in')]), branches: [branch('in', { finish })] }]);
  const planned = progressionOf(play)?.throws[0];
  if (!planned) throw new Error('nothing is thrown');
  return planned;
}

const out = thrown({ kind: 'out', angle: 90, run: 6 });
const inside = thrown({ kind: 'in', angle: 90, run: 6 });

function free(
  planned: typeof out,
  at: readonly [number, number],
  move: Move,
  to: readonly [number, number],
): FreeDefender | null {
  const man = defender('n', 'second', at, [move, to]);
  const [reaction] = man.reactions;
  if (!reaction) throw new Error('he does nothing');
  return freeDefender('highSchool', man, reaction, planned, planned.out);
}

describe('when a defender may go for a ball', () => {
  it('T8 with his eyes on the passer: a simple reaction (0.231 s) after the ball is out', () => {
    expect(free(out, [0, 5], 'drop', [6, 10])?.free).toBeCloseTo(out.out + 0.231, 9);
    expect(free(out, [0, 5], 'sit', [0, 5])).toMatchObject({ at: [0, 5], velocity: [0, 0] });
  });

  it('T8 with his eyes on the receiver: 0.32 s after the cut, and only on the side it goes to', () => {
    const cut = out.clock.breaks?.seconds ?? Number.NaN;
    expect(free(out, [x + 1, 4], 'man', [x, y])?.free).toBeCloseTo(cut + 0.32, 9);
    expect(free(out, [x - 1, 4], 'man', [x, y])).toBeNull();
    expect(free(inside, [x - 1, 4], 'man', [x, y])).not.toBeNull();
    expect(free(out, [x - 2, 5], 'wall', [x - 1, 6])).toBeNull();
    expect(free(inside, [x - 2, 5], 'wall', [x - 1, 6])).not.toBeNull();
  });

  it('T8 never on the rush, or with another man', () => {
    expect(free(out, [4, 1], 'rush', [0, -5])).toBeNull();
    expect(free(out, [19, 6], 'man', [19, -0.5])).toBeNull();
    expect(free(out, [19, 6], 'wall', [18, 6])).toBeNull();
  });

  it('T8 drops no faster than his gait: a hook ten yards deep takes a linebacker about 2 s', () => {
    const early = free({ ...out }, [6, 4.5], 'drop', [8, 10]);
    expect(early?.at[1]).toBeGreaterThan(7);
    expect(early?.at[1]).toBeLessThanOrEqual(10);
  });
});
