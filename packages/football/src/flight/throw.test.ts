import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arcOf } from './arc.ts';
import { airOf, ballValues, standardBall } from './ball.ts';
import { flyDownTo } from './launch.ts';
import { passers, usualThrow } from './passer.ts';
import { ballDistance, ballHeight, ballPath, spansBelow } from './path.ts';
import { dragBand, type Throw, throwBall, throwSchema } from './throw.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const edged = (min: number, max: number) =>
  fc.oneof({ weight: 4, arbitrary: within(min, max) }, fc.constantFrom(min, max));

/** Everything that the schema takes, its corners often. */
const anyThrow: fc.Arbitrary<Throw> = fc
  .record({
    distance: edged(0.5, 120),
    releaseHeight: edged(0, 3.5),
    catchHeight: edged(0, 3.5),
    delivery: fc.oneof(
      fc.record({ kind: fc.constantFrom('drive', 'touch'), speed: edged(10, 35) }),
      fc.record({ kind: fc.constant('loft'), angle: edged(2, 75), maxSpeed: edged(10, 35) }),
    ),
    ball: fc.record({
      dragCoefficient: edged(0, 0.3),
      airDensity: edged(0.7, 1.5),
      mass: edged(0.35, 0.5),
      frontalArea: edged(0.02, 0.026),
    }),
  })
  .map((thrown) => throwSchema.parse(thrown));

const numbersIn = (value: unknown): number[] =>
  typeof value === 'number'
    ? [value]
    : typeof value === 'object' && value !== null
      ? Object.values(value).flatMap(numbersIn)
      : [];

describe('a throw', () => {
  it('gives finite numbers or says out of range, for whatever the schema takes', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(anyThrow, within(-1, 20), (thrown, time) => {
        const result = throwBall(thrown);
        kinds.add(result.kind === 'flight' ? result.kind : result.why);
        const numbers = numbersIn(result);
        if (result.kind === 'flight') {
          const path = ballPath(result);
          numbers.push(...numbersIn(path), ballDistance(path, time), ballHeight(path, time));
          numbers.push(...numbersIn(spansBelow(path, 2.5)));
          expect(result.time).toBeGreaterThan(0);
          expect(result.apex).toBeGreaterThanOrEqual(
            Math.max(thrown.releaseHeight, thrown.catchHeight) - 1e-9,
          );
        }
        expect(numbers.filter((number) => !Number.isFinite(number))).toEqual([]);
      }),
      { numRuns: 800 },
    );
    expect([...kinds].sort()).toEqual(['flight', 'tooFar', 'tooFlat']);
  });

  it('passes the catch: the end of its path is the target', () => {
    fc.assert(
      fc.property(anyThrow, (thrown) => {
        const result = throwBall(thrown);
        if (result.kind !== 'flight') return;
        const path = ballPath(result);
        expect(ballDistance(path, result.time)).toBeCloseTo(thrown.distance, 8);
        expect(ballHeight(path, result.time)).toBeCloseTo(thrown.catchHeight, 8);
      }),
      { numRuns: 500 },
    );
  });

  it('is out of range exactly when no angle of a fine scan comes so far', () => {
    const seen = { flight: 0, outOfRange: 0 };
    fc.assert(
      fc.property(anyThrow, within(0.9, 1.1), (thrown, part) => {
        const { delivery } = thrown;
        if (delivery.kind === 'loft') return;
        const rise = thrown.catchHeight - thrown.releaseHeight;
        let scanned = 0;
        for (let angle = -60; angle < 90; angle += 0.5) {
          const arc = arcOf(
            airOf(thrown.ball),
            1 / delivery.speed ** 2,
            Math.tan((angle * Math.PI) / 180),
          );
          scanned = Math.max(scanned, flyDownTo(arc, rise)?.distance ?? 0);
        }
        const distance = Math.min(120, Math.max(0.5, scanned * part));
        const result = throwBall({ ...thrown, distance });
        if (Math.abs(distance - scanned) < 1e-3 * scanned) return;
        seen[result.kind]++;
        expect(result.kind).toBe(distance < scanned ? 'flight' : 'outOfRange');
        if (result.kind === 'outOfRange' && result.why === 'tooFar') {
          expect(result.farthest / scanned).toBeGreaterThanOrEqual(1 - 1e-9);
          expect(result.farthest / scanned).toBeLessThan(1 + 1e-3);
        }
      }),
      { numRuns: 200 },
    );
    // A third of the throws are lofts and fall out; of the rest each kind must have been tried.
    expect(Math.min(seen.flight, seen.outOfRange)).toBeGreaterThan(5);
  });

  it('is not fooled just past its longest, where the next guess leaves the quadrant', () => {
    const ball = {
      dragCoefficient: 0.3,
      airDensity: 1.4191011584706938,
      mass: 0.5,
      frontalArea: 0.020024244065453525,
    };
    const thrown = { distance: 85.69900565933034, releaseHeight: 0, catchHeight: 0, ball };
    const result = throwBall({ ...thrown, delivery: { kind: 'touch', speed: 34.99954261209948 } });
    expect(result.kind).toBe('outOfRange');
  });

  it('on a drive leaves lower and arrives sooner than with touch', () => {
    fc.assert(
      fc.property(anyThrow, within(10, 35), (thrown, speed) => {
        const drive = throwBall({ ...thrown, delivery: { kind: 'drive', speed } });
        const touch = throwBall({ ...thrown, delivery: { kind: 'touch', speed } });
        expect(drive.kind).toBe(touch.kind);
        if (drive.kind !== 'flight' || touch.kind !== 'flight') return;
        expect(drive.angle).toBeLessThanOrEqual(touch.angle + 1e-3);
        expect(drive.time).toBeLessThanOrEqual(touch.time + 1e-3);
      }),
    );
  });

  it('lofted at the angle of a drive takes the speed of that drive', () => {
    fc.assert(
      fc.property(anyThrow, within(10, 34), (thrown, speed) => {
        const drive = throwBall({ ...thrown, delivery: { kind: 'drive', speed } });
        if (drive.kind !== 'flight' || drive.angle < 2 || drive.angle > 75) return;
        const loft = throwBall({
          ...thrown,
          delivery: { kind: 'loft', angle: drive.angle, maxSpeed: 35 },
        });
        expect(loft.kind === 'flight' && loft.speed).toBeCloseTo(speed, 7);
      }),
    );
  });

  it('flies longer through more drag', () => {
    const [least, most] = dragBand(usualThrow('professional', 'drive', 30));
    if (least.kind !== 'flight' || most.kind !== 'flight') throw new Error('out of range');
    const usual = throwBall(usualThrow('professional', 'drive', 30));
    if (usual.kind !== 'flight') throw new Error('out of range');
    expect([least.time, usual.time, most.time]).toEqual(
      [least.time, usual.time, most.time].sort((a, b) => a - b),
    );
    expect(most.time - least.time).toBeGreaterThan(0.01);
  });

  it('refuses what is not a throw, and names the place', () => {
    const usual = usualThrow('college', 'drive', 20);
    const bad = throwSchema.safeParse({ ...usual, distance: Number.NaN });
    expect(bad.success ? [] : bad.error.issues.map(({ path }) => path)).toEqual([['distance']]);
    const hot = throwSchema.safeParse({ ...usual, delivery: { kind: 'drive', speed: 90 } });
    expect(hot.success ? [] : hot.error.issues.map(({ path }) => path)).toEqual([
      ['delivery', 'speed'],
    ]);
  });

  it('has its numbers inside their bands', () => {
    expect(standardBall.mass).toBe(ballValues.mass.value);
    for (const level of ['highSchool', 'college', 'professional'] as const)
      for (const kind of ['drive', 'touch'] as const) {
        const { from, value, to } = passers[level][kind];
        expect(from < value && value < to).toBe(true);
        expect(throwSchema.safeParse(usualThrow(level, kind, 15)).success).toBe(true);
      }
  });
});
