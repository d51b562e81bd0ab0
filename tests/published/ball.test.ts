import { ballValues, dragPerMetre, standardBall } from '@stemline/football/flight/ball';
import { catchHeight, passers, releaseHeight } from '@stemline/football/flight/passer';
import { metres } from '@stemline/football/units';
import { describe, expect, it } from 'vitest';

/** 14 to 15 oz: NCAA 1-3-1 (2009-10 text) and NFL Rule 2, both second hand. */
const ounces = (oz: number): number => oz * 0.028349523125;
/** Greatest cross-section of a ball with this short circumference, by 2πr. */
const areaAround = (inches: number): number => Math.PI * ((inches * 0.0254) / (2 * Math.PI)) ** 2;

describe('the ball of the rule books (NCAA 1-3-1, NFL Rule 2, second hand; NFHS from memory)', () => {
  it('weighs 14 to 15 oz: 0.39689 to 0.42524 kg, 0.41107 in the middle', () => {
    expect(ballValues.mass.from).toBeCloseTo(ounces(14), 9);
    expect(ballValues.mass.to).toBeCloseTo(ounces(15), 9);
    expect(standardBall.mass).toBeCloseTo(0.41107, 5);
  });

  it('is 20 3/4 to 21 1/4 in around: 0.16777 to 0.17181 m across, 0.022911 m² in the middle', () => {
    const across = (area: number): number => 2 * Math.sqrt(area / Math.PI);
    expect(ballValues.frontalArea.from).toBeCloseTo(areaAround(20.75), 9);
    expect(ballValues.frontalArea.to).toBeCloseTo(areaAround(21.25), 9);
    expect(across(ballValues.frontalArea.from)).toBeCloseTo(0.16777, 5);
    expect(across(ballValues.frontalArea.to)).toBeCloseTo(0.17181, 5);
    expect(standardBall.frontalArea).toBeCloseTo(0.022911, 6);
  });

  it('slows by k = 0.00170692, 0.00341384, 0.00477938 and 0.00682768 /m at Cd 0.05, 0.10, 0.14 and 0.20 (computed)', () => {
    for (const [dragCoefficient, k] of [
      [0.05, 0.00170692],
      [0.1, 0.00341384],
      [0.14, 0.00477938],
      [0.2, 0.00682768],
    ] as const)
      expect(dragPerMetre({ ...standardBall, dragCoefficient })).toBeCloseTo(k, 7);
  });

  it('has a drag between what teaching physics, wind tunnels and spirals give (Allain 2008, Alam et al. 2012, Dzielski & Blackburn 2022 as quoted)', () => {
    const { from, value, to } = ballValues.dragCoefficient;
    for (const published of [0.05, 0.06, 0.1, 0.14, 0.2]) {
      expect(published).toBeGreaterThanOrEqual(from);
      expect(published).toBeLessThanOrEqual(to);
    }
    expect(value).toBe(0.1);
  });
});

describe('how fast it is thrown', () => {
  const perHour = (speed: number): number => (speed * 3600) / 1760;

  it('combine passing speeds 2008 to 2016, n = 111: mean 53.7 mph, 42 to 60 (second hand)', () => {
    const { from, value, to } = passers.professional.drive;
    expect([from, value, to].map(perHour)).toEqual([
      expect.closeTo(42, 9),
      expect.closeTo(53.7, 9),
      expect.closeTo(60, 9),
    ]);
  });

  it('26 high-school and college passers: about 21 m/s, 47 mph (Fleisig et al. 1996, number from memory)', () => {
    expect(metres(passers.highSchool.drive.value)).toBeLessThan(21);
    expect(metres(passers.college.drive.value)).toBeGreaterThan(21);
    expect(perHour(passers.college.drive.value)).toBeCloseTo(48, 9);
  });

  it('touch throws 35 to 45 mph, release at 1.9 to 2.2 m, catch at 1.2 to 1.8 m (memory and common practice)', () => {
    for (const { touch, drive } of Object.values(passers)) {
      expect(perHour(touch.value)).toBeGreaterThanOrEqual(35);
      expect(perHour(touch.value)).toBeLessThanOrEqual(45);
      expect(touch.value).toBeLessThan(drive.value);
    }
    expect([releaseHeight.from, releaseHeight.to].map(metres)).toEqual([
      expect.closeTo(1.9, 9),
      expect.closeTo(2.2, 9),
    ]);
    expect([catchHeight.from, catchHeight.to].map(metres)).toEqual([
      expect.closeTo(1.2, 9),
      expect.closeTo(1.8, 9),
    ]);
  });
});
