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

/** Eleven that every code takes, gun or under centre, to be changed by the tables below. */
const usual = (code: RuleCode, quarterback: Player = gunQuarterback): Play =>
  play(
    code,
    man('X', 'WR', 1, -18, on),
    man('Y', 'TE', 88, 4.2, on),
    man('Z', 'WR', 2, 18, off),
    man('H', 'WR', 11, 10, off),
    back,
    quarterback,
  );
const change = (drawn: Play, who: string, edit: Partial<Player>): Play => ({
  ...drawn,
  players: drawn.players.map((player) => (player.label === who ? { ...player, ...edit } : player)),
});
const without = (drawn: Play, ...who: readonly string[]): Play => ({
  ...drawn,
  players: drawn.players.filter(({ label }) => !who.includes(label)),
});
const motion = (
  drawn: Play,
  who: string,
  path: readonly (readonly [number, number])[],
  atSnap: 'moving' | 'set' = 'moving',
): Play => ({
  ...drawn,
  motions: { ...drawn.motions, [playerIdSchema.parse(who)]: { path: [...path], atSnap } },
});

describe('everybody is a lineman or a back (NFHS 7-2-3, 2-25-2; NCAA 7-1-4-a-2; NFL 7-5, second hand)', () => {
  it.each(codes)('%s: only the man under the snapper may be between', (code) => {
    expect(fouls(usual(code))).toEqual([]);
    expect(fouls(change(usual(code), 'H', { at: [10, -0.9] }))).toEqual(['nobodysLand']);
    expect(fouls(change(usual(code, underCentre), 'Q', { at: [0, -0.9] }))).toEqual([]);
    const two = change(change(usual(code), 'H', { at: [10, -0.9] }), 'F', { at: [-5, -0.9] });
    expect(fouls(two)).toEqual(['nobodysLand', 'nobodysLand']);
  });
});

describe('fewer than eleven (NFHS 2-14-1, case 1.1.3; NCAA 7-1-4-a; NFL 7-5, second hand)', () => {
  /** Who stays away, and what each code says: only the professional one counts the men on the line. */
  it.each([
    ['a back', ['F'], [], [], []],
    ['a tight end', ['Y'], [], [], ['onLine']],
    ['a guard', ['LG'], ['lineNumbers'], ['lineNumbers'], ['onLine']],
    ['both ends', ['X', 'Y'], [], [], ['onLine']],
  ] as const)('without %s', (_, who, highSchool, college, professional) => {
    expect(fouls(without(usual('highSchool'), ...who))).toEqual(highSchool);
    expect(fouls(without(usual('college'), ...who))).toEqual(college);
    expect(fouls(without(usual('professional'), ...who))).toEqual(professional);
  });
});

describe('numbers on the line and off it', () => {
  it.each([
    ['highSchool', ['lineNumbers'], 'NFHS 2-14-1, 7-2-5a'],
    ['college', ['lineNumbers'], 'NCAA 7-1-4-a-3'],
    ['professional', [], 'the professional code asks for seven men, not for numbers'],
  ] as const)('%s: five on the line wear 50 to 79: %j (%s)', (code, rules, _source) => {
    for (const number of [49, 80, 0, 99])
      expect(fouls(change(usual(code), 'RG', { number })), String(number)).toEqual(rules);
    for (const number of [50, 79])
      expect(fouls(change(usual(code), 'RG', { number })), String(number)).toEqual([]);
  });

  /** NFHS and NCAA: 50 to 79; the professional code also 90 to 99 (second hand). */
  it.each([
    [49, true, true, true],
    [50, false, false, false],
    [79, false, false, false],
    [80, true, true, true],
    [89, true, true, true],
    [90, true, true, false],
    [99, true, true, false],
    [0, true, true, true],
  ] as const)(
    'a receiver in %i is eligible: high school %s, college %s, professional %s',
    (number, ...by) => {
      for (const [i, code] of codes.entries())
        expect(
          eligibleReceivers(change(usual(code), 'H', { number })).some(
            ({ label }) => label === 'H',
          ),
          code,
        ).toBe(by[i]);
    },
  );

  it.each(codes)('%s: an end in a lineman’s number is no receiver; at most six are', (code) => {
    const drawn = change(usual(code), 'X', { number: 70 });
    expect(eligible(drawn)).toBe(5);
    expect(eligible(usual(code))).toBe(6);
  });
});

/** NFL 5-1-2: 2021, and 0 from 2023 (second hand). The other books give positions no numbers of their own. */
describe('numbers by position, professional (NFL 5-1-2, second hand)', () => {
  it.each([
    ['LG', 'a guard', [50, 64, 79], [0, 49, 80, 88, 90, 99]],
    ['Q', 'a quarterback', [0, 1, 12, 19], [20, 49, 80]],
    ['F', 'a back', [0, 1, 28, 49, 80, 89], []],
    ['H', 'a receiver', [0, 1, 49, 80, 89], []],
    ['Y', 'a tight end', [0, 49, 80, 89], []],
  ] as const)('%s, %s', (who, _, good, bad) => {
    const told = (code: RuleCode, number: number) =>
      legality(change(usual(code), who, { number }))
        .filter(({ rule }) => rule === 'positionNumber')
        .map(({ weight }) => weight);
    for (const number of good) expect(told('professional', number), String(number)).toEqual([]);
    for (const number of bad) {
      expect(told('professional', number), String(number)).toEqual(['caution']);
      expect(told('highSchool', number)).toEqual([]);
      expect(told('college', number)).toEqual([]);
    }
  });

  it('a man in no receiver’s number is told once, as that', () => {
    const rules = legality(change(usual('professional'), 'H', { number: 95 }));
    expect(rules.map(({ rule }) => rule)).toEqual(['ineligibleNumber']);
  });
});

describe('where a man may stand at the snap', () => {
  it.each(codes)('%s: in bounds, and not over the line', (code) => {
    expect(fouls(change(usual(code), 'Z', { at: [26.6, off] }))).toEqual([]);
    expect(fouls(change(usual(code), 'Z', { at: [26.7, off] }))).toEqual(['outOfBounds']);
    expect(fouls(motion(usual(code), 'Z', [[9, 0]]))).toEqual(['outOfBounds']);
    expect(fouls(change(usual(code), 'X', { at: [-18, 0.1] }))).toEqual(['overLine']);
    expect(fouls(change(usual(code), 'X', { at: [-18, 0] }))).toEqual([]);
  });
});

describe('motion and shift', () => {
  /** NFHS 7-2-7; NCAA 7-1-4-b; NFL Video Rulebook, "Illegal Motion". */
  it.each([
    ['across, along the line', 'H', [[-16, 0]], []],
    ['backward', 'H', [[-3, -3]], []],
    ['toward the line', 'F', [[2, 1]], ['motionToward']],
    [
      'toward the line, then along it',
      'F',
      [
        [2, 1],
        [6, 1],
      ],
      [],
    ],
    [
      'along the line, then toward it',
      'F',
      [
        [4, 0],
        [6, 1],
      ],
      ['motionToward'],
    ],
    ['up onto the line', 'H', [[0, 1]], ['motionToward', 'motionOnLine']],
  ] as const)('one back in motion %s', (_, who, path, rules) => {
    for (const code of codes) expect(fouls(motion(usual(code), who, path)), code).toEqual(rules);
  });

  it.each(codes)(
    '%s: two moving at the snap are a foul; two that are set again, and one, are not',
    (code) => {
      const one = motion(usual(code), 'H', [[-6, 0]]);
      expect(fouls(motion(one, 'Z', [[-4, 0]]))).toEqual(['motionCount']);
      expect(fouls(motion(one, 'Z', [[-4, 0]], 'set'))).toEqual([]);
      const shift = motion(motion(usual(code), 'H', [[-6, 0]], 'set'), 'F', [[3, 0]], 'set');
      expect(fouls(shift)).toEqual([]);
    },
  );

  it.each([
    ['highSchool', 'NFHS 7-2-7: five yards back makes it good', []],
    ['college', 'NCAA 7-1-4-b, second hand: he must set as a back first', ['motionFromLine']],
    ['professional', 'NFL: he must reset', ['motionFromLine']],
  ] as const)(
    '%s: a man who leaves the line, five yards back at the snap (%s)',
    (code, _, rules) => {
      // Z is on the line in his place, so that seven are there once X has left.
      const eight = change(usual(code), 'Z', { at: [18, on] });
      expect(fouls(motion(eight, 'X', [[9, -4.5]]))).toEqual(rules);
      expect(fouls(motion(eight, 'X', [[9, -3]]))).toEqual(['motionFromLine']);
      expect(fouls(motion(eight, 'X', [[9, -1]], 'set'))).toEqual([]);
    },
  );

  it.each(codes)(
    '%s: a shift changes who is on the line; the formation at the snap counts',
    (code) => {
      const onto = motion(usual(code), 'H', [[0, 1]], 'set');
      expect(legality(onto)).toMatchObject([{ rule: 'covered', players: ['Y'] }]);
      const off = motion(usual(code), 'X', [[0, -1]], 'set');
      expect(fouls(off)).toEqual(code === 'professional' ? ['onLine'] : ['backs']);
    },
  );
});

describe('ineligible men downfield (NFHS 2-28-2, 7-5-12; NCAA 7-3-10; NFL 8-3-1, second hand)', () => {
  const running = (code: RuleCode, who: string, depth: number): Play => ({
    ...change(usual(code), 'H', { at: [10, on] }),
    routes: {
      [playerIdSchema.parse(who)]: {
        release: { side: 'free', hesitate: 0 },
        stem: [[0, depth - on]],
        finish: [],
        shape: 'sharp',
        name: '',
      },
    },
  });
  const cautions = (drawn: Play): string[] =>
    legality(drawn).map(({ rule, players }) => `${rule} ${players.join()}`);

  it.each([
    ['highSchool', 2],
    ['college', 3],
    ['professional', 1],
  ] as const)(
    '%s: up to %i yd, for the covered end; the man who covers him may go on',
    (code, most) => {
      expect(cautions(running(code, 'Y', most))).toEqual(['covered Y']);
      expect(cautions(running(code, 'Y', most + 0.1))).toEqual([
        'covered Y',
        'ineligibleDownfield Y',
      ]);
      expect(cautions(running(code, 'H', 20))).toEqual(['covered Y']);
    },
  );
});

/**
 * A receiver who goes out of bounds may not catch the ball any more: NCAA 7-3-4; NFHS 7-5-6 and NFL
 * section 8-1 say the same (articles from memory). The sideline itself is out of bounds, 80 ft from the
 * middle of the field (NFHS 1-1-2, NCAA 1-2-1).
 */
describe('a route that leaves the field', () => {
  const ends = [man('X', 'WR', 1, -18, on), man('Y', 'TE', 88, 4.2, on)];
  const others = [man('Z', 'WR', 2, 18, off), man('H', 'WR', 11, 10, off), back, gunQuarterback];
  const outTo = (code: RuleCode, label: string, across: number, up = 10): string[] =>
    legality({
      ...play(code, ...ends, ...others),
      routes: {
        [playerIdSchema.parse(label)]: {
          release: { side: 'free', hesitate: 0 },
          stem: [[0, up]],
          finish: [[across, up]],
          shape: 'sharp',
          name: '',
        },
      },
    }).map(({ rule, weight, players }) => `${rule} ${weight} ${players.join()}`);

  it.each(codes)('%s: a caution from the sideline on, on either side', (code) => {
    expect(outTo(code, 'Z', 80 / 3 - 18.01)).toEqual([]);
    expect(outTo(code, 'Z', 80 / 3 - 18)).toEqual(['routeOutOfBounds caution Z']);
    expect(outTo(code, 'X', -9)).toEqual(['routeOutOfBounds caution X']);
  });

  it('and none for a man who may not catch it anyway', () => {
    expect(outTo('college', 'RG', 30, 0)).toEqual([]);
  });
});
