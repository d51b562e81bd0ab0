/**
 * The clock of a throw against published values and common practice.
 *
 * Drops, ball-out and route depths: common practice, no single source; that a receiver with V 9.0 m/s,
 * τ 1.0 s and 0.2 s to his first step is at 5–6 yd by 1.41–1.55 s, 12 yd by 2.30 s, 15 yd by 2.64 s and
 * 18 yd by 2.97 s is computed from the sprint model (di Prampero et al. 2005, J Exp Biol 208:2809).
 *
 * Flights: low-arc times from 2.0 m to 1.5 m with Cd 0.10, computed with scipy DOP853 (rtol 1e-13), two
 * rows of that set cross-checked with the `odex` package.
 */
import { breakRun } from '@stemline/football/footwork/runs';
import { timedPath } from '@stemline/football/footwork/timed-path';
import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import type { Situation } from '@stemline/football/play';
import type { RuleCode } from '@stemline/football/rulecode';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { sprintPreset } from '@stemline/football/sprint-presets';
import { branchIdSchema, type ReadCard, rowIdSchema } from '@stemline/read-rules/card';
import { holdsBall } from '@stemline/read-rules/clock/values';
import { onPlay } from '@stemline/read-rules/findings/on-play';
import { timing } from '@stemline/read-rules/findings/timing';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { ballsTo } from '@stemline/read-rules/throws/ball';
import { type PlannedThrow, progressionOf } from '@stemline/read-rules/throws/planned';
import { describe, expect, it } from 'vitest';
import { readPlay } from './read-rules-plays.ts';

const z = playerIdSchema.parse('z');
const q = playerIdSchema.parse('q');

const passerCard: ReadCard = {
  player: q,
  head: {
    title: '',
    key: {
      levels: ['corner'],
      maxDepth: 15,
      over: z,
      direction: 'inside',
      reach: 20,
      headUp: 3,
      tie: 0,
    },
    sideMan: { width: 0, depth: 0 },
    policy: 'first',
    whenInDoubt: branchIdSchema.parse('z'),
    noKey: null,
  },
  rows: [
    {
      id: rowIdSchema.parse('always'),
      conditions: [],
      branch: branchIdSchema.parse('z'),
      says: '',
    },
  ],
  branches: [{ id: branchIdSchema.parse('z'), name: 'Z', kind: 'target', player: z }],
};

/** Z breaks so deep past the line, the passer stands so deep, and throws to nobody else. */
function breakingAt(
  depth: number,
  across: number,
  passerAt: number,
  code: RuleCode,
  hesitate = 0,
): RuledPlay {
  const situation: Situation = { code, spot: 'middle', toGoal: 60, down: 1, toGain: 10 };
  const players = playersOf('doubles', { strength: 'right', situation }).map((player) => ({
    ...player,
    at:
      player.id === q
        ? ([0, -passerAt] as const)
        : player.id === z
          ? ([14, -0.5] as const)
          : player.at,
  }));
  return {
    name: 'Timing',
    concept: '',
    situation,
    players,
    routes: {
      [z]: {
        name: '',
        release: { side: 'free', hesitate },
        stem: [[0, depth + 0.5]],
        finish: [[across, depth + 0.5]],
        shape: 'sharp',
      },
    } as RuledPlay['routes'],
    motions: {} as RuledPlay['motions'],
    cards: [passerCard],
  };
}

function thrown(play: RuledPlay): PlannedThrow {
  const [planned] = progressionOf(play)?.throws ?? [];
  if (!planned) throw new Error('nothing is thrown');
  return planned;
}

const late = (play: RuledPlay) =>
  timing(
    onPlay(
      play,
      builtInLooks.slice(0, 2).map((look) => alignLook(look, play)),
    ),
  ).filter(({ kind }) => kind === 'late');

describe('drop, ball-out and depth of route fit each other', () => {
  it.each([
    { depth: 5, underCentre: 'three-step', gun: 'gun-catch-and-throw', by: 1.7 },
    { depth: 12, underCentre: 'five-step', gun: 'gun-three-step', by: 2.5 },
    { depth: 16, underCentre: 'five-step-hitch', gun: 'gun-three-step-hitch', by: 2.9 },
    { depth: 18, underCentre: 'seven-step', gun: 'gun-five-step', by: 3.4 },
  ])('a break at $depth yd is thrown by $by s', ({ depth, underCentre, gun, by }) => {
    for (const code of ['highSchool', 'college', 'professional'] as const) {
      const fromGun = breakingAt(depth, -8, 5, code);
      const fromCentre = breakingAt(depth, -8, 1.2, code);
      expect(thrown(fromGun).passer.drop.id).toBe(gun);
      expect(thrown(fromCentre).passer.drop.id).toBe(underCentre);
      expect(thrown(fromGun).due.to).toBe(by);
      expect(late(fromGun)).toEqual([]);
      expect(late(fromCentre)).toEqual([]);
    }
  });

  it('a break held up for a second is late at every depth, by what it is held up beyond its slack', () => {
    for (const depth of [5, 12, 16, 18]) {
      const held = thrown(breakingAt(depth, -8, 5, 'college', 1));
      const plain = thrown(breakingAt(depth, -8, 5, 'college'));
      expect(held.ready - plain.ready).toBeCloseTo(1, 6);
      const expected = held.ready - held.due.to > holdsBall.value ? 1 : 0;
      expect(late(breakingAt(depth, -8, 5, 'college', 1))).toHaveLength(expected);
      expect(expected).toBe(1);
    }
  });

  it('a professional receiver is at the break a cut’s braking after the sprint model’s time', () => {
    /** V 9.616 m/s is a little faster than the 9.0 m/s of the published check. */
    for (const [depth, by] of [
      [12, 2.3],
      [15, 2.64],
      [18, 2.97],
    ] as const) {
      const { breaks } = thrown(breakingAt(depth, -8, 5, 'professional')).clock;
      expect(breaks?.seconds).toBeGreaterThan(by - 0.15);
      expect(breaks?.seconds).toBeLessThan(by + 0.25);
    }
  });
});

/** Seconds over 10, 20 and 30 yd at 40, 45, 50, 55 mph. */
const lowArc: Readonly<Record<number, readonly [number, number, number]>> = {
  40: [0.5215, 1.0993, 1.8698],
  45: [0.4625, 0.9596, 1.5367],
  50: [0.4158, 0.8558, 1.3419],
  55: [0.3779, 0.774, 1.2011],
};

describe('the ball as the check throws it', () => {
  it.each([
    { code: 'highSchool', mph: 44, between: [45, 40] },
    { code: 'college', mph: 48, between: [50, 45] },
    { code: 'professional', mph: 53.7, between: [55, 50] },
  ] as const)('$code: $mph mph lies between the rows about it', ({ code, between }) => {
    const [faster, slower] = between;
    for (const [i, yards] of [10, 20, 30].entries()) {
      const stands = timedPath(sprintPreset(code, 'WR'), {
        ...breakRun([0, yards - 7.01], [0, yards - 7], 0),
        finish: 'stop',
      });
      const ball = ballsTo(code, stands, [0, -7], 2).usual;
      expect(ball?.flight.distance).toBeCloseTo(yards, 6);
      expect(ball?.flight.time).toBeGreaterThan(lowArc[faster]?.[i] ?? Number.NaN);
      expect(ball?.flight.time).toBeLessThan(lowArc[slower]?.[i] ?? Number.NaN);
    }
  });

  it('meets a man on the run: he and the ball are there at one time', () => {
    const { balls, clock } = thrown(breakingAt(12, -8, 5, 'college'));
    for (const ball of [balls.usual, ...balls.others()]) {
      if (!ball) throw new Error('no ball');
      const past = timedPathAt(clock.path, ball.caught);
      expect(Math.hypot(past[0] - ball.to[0], past[1] - ball.to[1])).toBeLessThan(0.002);
    }
  });
});

/** Where he is by walking his phases in small steps of time. */
function timedPathAt(
  path: PlannedThrow['clock']['path'],
  seconds: number,
): readonly [number, number] {
  let along = 0;
  const step = 1e-4;
  for (let t = 0; t < seconds; t += step) {
    const phase = path.phases.filter(({ time }) => time <= t).at(-1);
    if (!phase || phase.stride.kind === 'stand') continue;
    const { stride } = phase;
    const into = t - phase.time + step / 2;
    const speed =
      stride.kind === 'coast'
        ? stride.speed
        : stride.kind === 'brake'
          ? Math.max(0, stride.speed - stride.rate * into)
          : stride.limit + (stride.speed - stride.limit) * Math.exp(-into / stride.tau);
    along += speed * step;
  }
  const straight = path.straights.filter((one) => one.along <= along).at(-1);
  if (!straight) return path.from;
  const off = along - straight.along;
  return [
    straight.from[0] + straight.direction[0] * off,
    straight.from[1] + straight.direction[1] * off,
  ];
}

describe('the slot’s choice as it is taught (common practice, no single source)', () => {
  it('is thrown on time from the gun, with the route behind him as the second man', () => {
    const throws = progressionOf(readPlay('lantern'))?.throws ?? [];
    expect(throws.length).toBeGreaterThan(4);
    for (const { ready, due } of throws)
      expect(ready).toBeLessThanOrEqual(due.to + holdsBall.value);
    for (const { clock } of throws) {
      const { releases, decides, breaks } = clock;
      expect(decides ?? releases).toBeGreaterThanOrEqual(releases);
      if (decides !== null && breaks) expect(decides).toBeLessThanOrEqual(breaks.seconds);
    }
  });
});
