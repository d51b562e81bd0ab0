import { playerIdSchema } from '@stemline/football/ids';
import { legality } from '@stemline/football/legality';
import { eligibleReceivers } from '@stemline/football/legality/line';
import type { Play, Player } from '@stemline/football/play';
import type { RuleCode } from '@stemline/football/rulecode';
import { describe, expect, it } from 'vitest';

/**
 * Formations worked out from the rule books: NFHS 2-14-1, 7-2-5a (2019: five on the line numbered 50
 * to 79, no more than four backs); NCAA 7-1-4-a-3 and -4 (the same); NFL section 7-5 (seven on the
 * line; second hand) and "a T-formation quarterback is not eligible" (old digest, second hand).
 */
const codes = ['highSchool', 'college', 'professional'] as const;

const on = -0.5;
const off = -1.5;

const man = (
  label: string,
  position: Player['position'],
  number: number,
  x: number,
  y: number,
): Player => ({ id: playerIdSchema.parse(label), label, position, number, at: [x, y] });

const line: readonly Player[] = [
  man('LT', 'T', 72, -2.8, on),
  man('LG', 'G', 66, -1.4, on),
  man('C', 'C', 55, 0, -0.4),
  man('RG', 'G', 64, 1.4, on),
  man('RT', 'T', 76, 2.8, on),
];
const gunQuarterback = man('Q', 'QB', 12, 0, -5);
const underCentre = man('Q', 'QB', 12, 0, -1.2);
const back = man('F', 'RB', 28, -1.6, -5);

const play = (code: RuleCode, ...others: readonly Player[]): Play => ({
  name: 'Worked case',
  concept: '',
  situation: { code, spot: 'middle', toGoal: 60, down: 1, toGain: 10 },
  players: [...line, ...others],
  routes: {},
  motions: {},
});
const fouls = (drawn: Play): string[] =>
  legality(drawn)
    .filter(({ weight }) => weight === 'foul')
    .map(({ rule }) => rule);
const eligible = (drawn: Play): number => eligibleReceivers(drawn).length;

describe('F1: seven on the line, both ends eligible by number, and four backs', () => {
  const ends = [man('X', 'WR', 1, -18, on), man('Y', 'TE', 88, 4.2, on)];
  const backs = [man('Z', 'WR', 2, 18, off), man('H', 'WR', 11, 10, off), back];

  it.each(codes)('%s: legal, and six are eligible', (code) => {
    const drawn = play(code, ...ends, ...backs, gunQuarterback);
    expect(legality(drawn)).toEqual([]);
    expect(eligible(drawn)).toBe(6);
  });

  it.each([
    ['highSchool', 6],
    ['college', 6],
    ['professional', 5],
  ] as const)('%s with the quarterback under centre: %i are eligible', (code, count) => {
    const drawn = play(code, ...ends, ...backs, underCentre);
    expect(legality(drawn)).toEqual([]);
    expect(eligible(drawn)).toBe(count);
  });
});

describe('F2: six on the line and five backs, eleven players', () => {
  const others = [
    man('X', 'WR', 1, -18, on),
    man('A', 'WR', 5, -10, off),
    man('H', 'WR', 11, 10, off),
    man('Z', 'WR', 2, 18, off),
    back,
    gunQuarterback,
  ];
  it.each([
    ['highSchool', 'backs'],
    ['college', 'backs'],
    ['professional', 'onLine'],
  ] as const)('%s: illegal by %s', (code, rule) => {
    expect(fouls(play(code, ...others))).toEqual([rule]);
  });
});

describe('F3: six on the line and four backs, ten players', () => {
  const others = [
    man('X', 'WR', 1, -18, on),
    man('H', 'WR', 11, 10, off),
    man('Z', 'WR', 2, 18, off),
    back,
    gunQuarterback,
  ];
  it.each([
    ['highSchool', []],
    ['college', []],
    ['professional', ['onLine']],
  ] as const)('%s: %j', (code, rules) => {
    expect(fouls(play(code, ...others))).toEqual(rules);
  });
});

describe('F4: eight on the line and three backs', () => {
  const others = (quarterback: Player): Player[] => [
    man('X', 'WR', 1, -18, on),
    man('Y', 'TE', 88, 4.2, on),
    man('Z', 'WR', 2, 18, on),
    man('H', 'WR', 11, -10, off),
    back,
    quarterback,
  ];
  it.each(codes)('%s: legal, the two ends and three backs are eligible', (code) => {
    const drawn = play(code, ...others(gunQuarterback));
    expect(fouls(drawn)).toEqual([]);
    expect(eligible(drawn)).toBe(5);
  });
  it('professional with the quarterback under centre: four', () => {
    expect(eligible(play('professional', ...others(underCentre)))).toBe(4);
  });
});

describe('F5: X and the tight end both on the line to the trips side, X outside', () => {
  const others = [
    man('X', 'WR', 1, 18, on),
    man('Y', 'TE', 88, 4.2, on),
    man('H', 'WR', 11, 10, off),
    man('Z', 'WR', 2, -18, off),
    back,
    gunQuarterback,
  ];
  it.each(codes)('%s: the tight end is covered and ineligible by position', (code) => {
    const drawn = play(code, ...others);
    expect(legality(drawn)).toMatchObject([{ rule: 'covered', weight: 'caution', players: ['Y'] }]);
    expect(eligibleReceivers(drawn).map(({ label }) => label)).not.toContain('Y');
    expect(eligibleReceivers(drawn).map(({ label }) => label)).toContain('X');
  });
});

describe('motion at the snap', () => {
  const drawn = (code: RuleCode): Play =>
    play(
      code,
      man('X', 'WR', 1, -18, on),
      man('Y', 'TE', 88, 4.2, on),
      man('Z', 'WR', 2, 18, off),
      man('H', 'WR', 11, 10, off),
      back,
      gunQuarterback,
    );
  /** Z is on the line too, so that a man who leaves it is not a fifth back. */
  const eightOnLine = (code: RuleCode): Play => {
    const usual = drawn(code);
    const players = usual.players.map(
      (player): Player => (player.label === 'Z' ? { ...player, at: [18, on] } : player),
    );
    return { ...usual, players };
  };
  const moving = (of: Play, who: string, x: number, y: number): Play => ({
    ...of,
    motions: { ...of.motions, [playerIdSchema.parse(who)]: { path: [[x, y]], atSnap: 'moving' } },
  });

  it.each([
    ['highSchool', 'NFHS 7-2-7'],
    ['college', 'NCAA 7-1-4-b'],
    ['professional', 'NFL Video Rulebook, Illegal Motion'],
  ] as const)('%s: one back, not toward the line (%s)', (code, _source) => {
    expect(fouls(moving(drawn(code), 'H', -6, 0))).toEqual([]);
    expect(fouls(moving(drawn(code), 'F', 2, 2))).toEqual(['motionToward']);
    expect(fouls(moving(moving(drawn(code), 'H', -6, 0), 'Z', -4, 0))).toEqual(['motionCount']);
  });

  it('NFHS 7-2-7: a man who starts from the line must be five yards behind it', () => {
    expect(fouls(moving(eightOnLine('highSchool'), 'X', 8, -4.5))).toEqual([]);
    expect(fouls(moving(eightOnLine('highSchool'), 'X', 8, -4.4))).toEqual(['motionFromLine']);
  });

  it('NCAA (second hand) and NFL: a man who starts from the line must set first', () => {
    expect(fouls(moving(eightOnLine('college'), 'X', 8, -4.5))).toEqual(['motionFromLine']);
    expect(fouls(moving(eightOnLine('professional'), 'X', 8, -4.5))).toEqual(['motionFromLine']);
  });
});
