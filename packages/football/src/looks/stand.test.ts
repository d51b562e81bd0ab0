import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry.ts';
import { formationPlay, midfield } from '../plays.test-kit.ts';
import { pictureOf } from './picture.ts';
import type { Stand } from './recipe.ts';
import { apex, edge, onMan, over, shell } from './rule.ts';
import { roomBehind, standAt } from './stand.ts';

const place = (stand: Stand, formation: string): Point | null =>
  standAt(stand, pictureOf(formationPlay(formation)), null);
const spot = (label: string, formation: string): Point =>
  formationPlay(formation).players.find((player) => player.label === label)?.at ?? [99, 99];

describe('standing over a receiver', () => {
  it('inside of him by so many yards, outside when they are negative', () => {
    const [x] = spot('H', 'doubles');
    expect(place(over('strong', 2, 1, 5), 'doubles')).toEqual([x - 1, 5]);
    expect(place(over('strong', 2, -1, 5), 'doubles')).toEqual([x + 1, 5]);
  });

  it('who is not there has no place', () => {
    expect(place(over('weak', 2, 1, 5), 'trips')).toBeNull();
    expect(place(apex('weak', 2, 'inside', 5), 'trips')).toBeNull();
    expect(place(onMan(1, 5), 'trips')).toBeNull();
  });

  it('presses the point of a bunch and is off the others', () => {
    expect(place(over('strong', 2, 0, 1), 'bunch')?.[1]).toBe(1);
    expect(place(over('strong', 1, 0, 1), 'bunch')?.[1]).toBe(5);
    expect(place(over('strong', 3, 0, 1), 'bunch')?.[1]).toBe(5);
  });

  it('plays an attached man from outside the line, unless he is deep', () => {
    expect(place(over('strong', 2, 1, 5), 'doubles-tight-end')?.[0]).toBeCloseTo(5.7, 9);
    expect(place(apex('strong', 2, 'inside', 5), 'doubles-tight-end')?.[0]).toBeCloseTo(5.7, 9);
    expect(place(over('strong', 2, 1, 10), 'doubles-tight-end')).toEqual([4.2 - 1, 10]);
  });
});

describe('standing between', () => {
  it('an apex is half-way: to the next man inside, to the tackle, or to the man outside', () => {
    const [slot] = spot('H', 'doubles');
    const [wide] = spot('Z', 'doubles');
    expect(place(apex('strong', 2, 'inside', 5), 'doubles')?.[0]).toBeCloseTo((slot + 2.8) / 2, 9);
    expect(place(apex('strong', 2, 'outside', 5), 'doubles')?.[0]).toBeCloseTo(
      (slot + wide) / 2,
      9,
    );
    const [third] = spot('A', 'trips');
    const [second] = spot('H', 'trips');
    expect(place(apex('strong', 2, 'inside', 5), 'trips')?.[0]).toBeCloseTo(
      (third + second) / 2,
      9,
    );
  });

  it('a deep man is over #2, never tighter than five yards from the ball', () => {
    expect(place(shell('strong', 13), 'doubles')?.[0]).toBe(spot('H', 'doubles')[0]);
    expect(place(shell('strong', 13), 'doubles-tight-end')?.[0]).toBe(5);
  });

  it('the edge is the last attached man', () => {
    expect(place(edge('strong', 1, 2), 'doubles-tight-end')?.[0]).toBeCloseTo(5.2, 9);
    expect(place(edge('weak', 1, 2), 'doubles-tight-end')?.[0]).toBeCloseTo(-3.8, 9);
  });
});

describe('room behind', () => {
  const at = (depth: number, toGoal: number): number =>
    roomBehind(
      [0, depth],
      pictureOf(formationPlay('doubles', { situation: { ...midfield, toGoal } })),
    )[1];

  it('is enough in the open field', () => {
    expect(at(13, 21)).toBe(13);
  });
  it('shrinks by two yards inside the twenty, and by the end line at the goal', () => {
    expect(at(13, 20)).toBe(11);
    expect(at(13, 3)).toBe(8);
    expect(at(13, 1)).toBe(6);
  });
  it('leaves the box alone', () => {
    expect(at(5, 1)).toBe(5);
  });
});
