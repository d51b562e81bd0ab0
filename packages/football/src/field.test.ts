import { describe, expect, it } from 'vitest';
import { ballX, downGroup, fieldOf, fieldZone, halfWidth } from './field.ts';
import { ruleCodeSchema } from './rulecode.ts';

describe('field', () => {
  it.each(ruleCodeSchema.options)(
    '%s: every marking lies between the middle and the sideline',
    (code) => {
      const { hash, numbers, goalPosts } = fieldOf(code);
      expect(hash).toBeGreaterThan(0);
      expect(halfWidth - numbers.bottom).toBeGreaterThan(halfWidth - numbers.top);
      expect(halfWidth - numbers.top).toBeGreaterThan(hash);
      expect(goalPosts.value).toBeLessThan(2 * halfWidth);
    },
  );

  it('puts the ball on the hash of its spot, left being negative', () => {
    for (const code of ruleCodeSchema.options) {
      expect(ballX({ code, spot: 'left' })).toBe(-fieldOf(code).hash);
      expect(ballX({ code, spot: 'middle' })).toBe(0);
      expect(ballX({ code, spot: 'right' })).toBe(fieldOf(code).hash);
    }
  });

  it('divides the field without a hole', () => {
    const zones = [99, 90, 89, 21, 20, 6, 5, 1].map((toGoal) => fieldZone({ toGoal }));
    expect(zones).toEqual([
      'backedUp',
      'backedUp',
      'open',
      'open',
      'redZone',
      'redZone',
      'goalLine',
      'goalLine',
    ]);
  });

  it('groups the downs', () => {
    expect(downGroup({ down: 1, toGain: 1 })).toBe('first');
    expect([3, 4, 6, 7].map((toGain) => downGroup({ down: 3, toGain }))).toEqual([
      'short',
      'medium',
      'medium',
      'long',
    ]);
  });
});
