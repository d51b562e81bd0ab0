import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halfWidth } from '../field.ts';
import { anyFormation, formationPlay, midfield } from '../plays.test-kit.ts';
import { pictureOf } from './picture.ts';
import { flankSchema, zoneSchema } from './recipe.ts';
import { zonePoint } from './zones.ts';

describe('zones', () => {
  it('lie on the field, short of the end line, wherever the ball is', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...zoneSchema.options),
        fc.constantFrom(...flankSchema.options),
        anyFormation,
        (zone, flank, play) => {
          const [x, y] = zonePoint(zone, flank, pictureOf(play));
          expect(Math.abs(x)).toBeLessThan(halfWidth);
          expect(y).toBeLessThan(play.situation.toGoal + 10);
          expect(y).toBeGreaterThan(0);
        },
      ),
    );
  });

  it('the deep ones divide the field: thirds of 17.78, halves of 26.67, quarters of 13.33 yards', () => {
    const doubles = formationPlay('doubles');
    const players = doubles.players.filter(({ label }) => label !== 'H' && label !== 'A');
    // Nobody is the second receiver of his side.
    const picture = pictureOf({ ...doubles, players });
    const x = (zone: 'third' | 'half' | 'quarter' | 'insideQuarter') =>
      zonePoint(zone, 'strong', picture)[0];
    expect(x('third')).toBeCloseTo(17.7778, 4);
    expect(x('half')).toBeCloseTo(13.3333, 4);
    expect(x('quarter')).toBeCloseTo(20, 4);
    expect(x('insideQuarter')).toBeCloseTo(6.6667, 4);
  });

  it('the inside quarter lies over the second receiver where there is one', () => {
    const doubles = formationPlay('doubles');
    const second = doubles.players.find(({ label }) => label === 'H');
    expect(zonePoint('insideQuarter', 'strong', pictureOf(doubles))[0]).toBe(second?.at[0]);
  });

  it('stay within five yards outside the widest receiver', () => {
    const play = formationPlay('bunch', {
      situation: { ...midfield, code: 'highSchool', spot: 'left' },
    });
    const widest = Math.max(...play.players.map(({ at }) => at[0]));
    expect(zonePoint('quarter', 'strong', pictureOf(play))[0]).toBeCloseTo(widest + 5, 9);
  });

  it('the hook stays near the ball from either hash', () => {
    for (const code of ['highSchool', 'college', 'professional'] as const)
      for (const spot of ['left', 'middle', 'right'] as const)
        for (const flank of flankSchema.options) {
          const picture = pictureOf(
            formationPlay('doubles', { situation: { ...midfield, code, spot } }),
          );
          const fromBall = Math.abs(zonePoint('hook', flank, picture)[0] - picture.ball);
          expect(fromBall).toBeGreaterThanOrEqual(4 - 1e-9);
          expect(fromBall).toBeLessThanOrEqual(10 + 1e-9);
        }
  });
});
