import { defenderIdSchema, playerIdSchema } from '@stemline/football/ids';
import type { AlignedLook, Defender } from '@stemline/football/look';
import type { Route } from '@stemline/football/play';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { fullBoard } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { type Branch, branchIdSchema, type ReadCard } from '../card.ts';
import { check } from '../check.ts';
import { type Finding, type FindingKind, findingSchema } from '../finding.ts';
import { applyMend } from '../mends/apply.ts';
import type { RuledPlay } from '../ruled-play.ts';
import { branch, card, defender, doubles, h, head, is, look, q, row } from '../testing/cards.ts';
import { progressionOf } from '../throws/planned.ts';
import { onPlay } from './on-play.ts';
import { timing } from './timing.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

const z = playerIdSchema.parse('z');
const of = (findings: readonly Finding[], kind: FindingKind): Finding[] =>
  findings.filter((one) => one.kind === kind);
const against = (play: RuledPlay, ...looks: readonly AlignedLook[]) => timing(onPlay(play, looks));
const onShelf = (play: RuledPlay) =>
  against(play, ...builtInLooks.map((recipe) => alignLook(recipe, play)));

/** H's card with one way to run, whatever he sees. */
const onlyBranch = (change: Partial<Extract<Branch, { kind: 'route' }>>): ReadCard => ({
  ...card([row('always', 'in')]),
  branches: [branch('in', change)],
});
const inBreak = (angle: number) => ({ kind: 'in', angle, run: 8 }) as const;
const outBreak = (run: number) => ({ kind: 'out', angle: 90, run }) as const;

/** The passer's card: one target after the other, the first whatever he sees. */
const throwsTo = (...targets: readonly (typeof h)[]): ReadCard => ({
  player: q,
  head: head({ noKey: branchIdSchema.parse(`to-${targets[0]}`) }),
  rows: [row('always', `to-${targets[0]}`)],
  branches: targets.map((player) => ({
    id: branchIdSchema.parse(`to-${player}`),
    name: `To ${player}`,
    kind: 'target',
    player,
  })),
});

const route = (stem: Route['stem'], finish: Route['finish'], hesitate = 0): Route => ({
  name: '',
  release: { side: 'free', hesitate },
  stem,
  finish,
  shape: 'sharp',
});
const drawn = (play: RuledPlay, routes: Readonly<Record<string, Route>>): RuledPlay => ({
  ...play,
  routes: routes as RuledPlay['routes'],
});

describe('late', () => {
  it('LA1 none for a choice at 5 to 6 yards with a slight hesitation', () => {
    const play = doubles([
      onlyBranch({ finish: outBreak(6), release: { side: 'free', hesitate: 0.2 }, eyes: 0.2 }),
    ]);
    expect(of(onShelf(play), 'late')).toEqual([]);
  });

  it('LA1 a choice that is held up for a second is late by about as much', () => {
    const [found, ...more] = of(
      onShelf(
        doubles([onlyBranch({ finish: outBreak(6), release: { side: 'free', hesitate: 1.2 } })]),
      ),
      'late',
    );
    expect(more).toEqual([]);
    expect(found).toMatchObject({
      severity: 'warn',
      elements: [{ kind: 'branch', player: h, branch: 'in' }],
    });
    expect(found?.says).toMatch(/due 0\.\d+ s too soon for H's IN/);
    expect(found?.witness?.look.defenders).toHaveLength(11);
  });

  it('LA1 one deep break on a card of quick ones is late, and the depth of the mend is in time', () => {
    const of_ = (depth: number): ReadCard => ({
      ...card([
        row('comes', 'in', is('keyRushes', true)),
        row('stays', 'out', is('keyRushes', false)),
      ]),
      branches: [
        branch('in', { finish: inBreak(90) }),
        branch('out', { finish: outBreak(6), breakAt: { from: depth, to: depth }, decideBy: 3 }),
      ],
    });
    const [found] = of(onShelf(doubles([of_(14)])), 'late');
    const depth = Number(/no deeper than ([\d.]+) yd/.exec(found?.mend ?? '')?.[1]);
    expect(depth).toBeGreaterThan(7);
    expect(depth).toBeLessThan(14);
    expect(of(onShelf(doubles([of_(depth)])), 'late')).toEqual([]);
    expect(of(onShelf(doubles([of_(depth + 3)])), 'late')).toHaveLength(1);
  });

  it('LA1 T4 a man who shows his eyes only when the ball is there', () => {
    const blind = doubles([onlyBranch({ finish: outBreak(6), eyes: 2 })]);
    const [found] = of(onShelf(blind), 'late');
    expect(found?.says).toContain('shows his eyes');
  });
});

describe('a drop that is called', () => {
  const quickOut = doubles([onlyBranch({ finish: outBreak(6) })]);
  const hitchRoute = doubles([onlyBranch({ finish: { kind: 'sit' } })]);

  it('T3 LA1 makes a break late that it does not wait for', () => {
    const deep = doubles([onlyBranch({ finish: outBreak(6), breakAt: { from: 12, to: 12 } })]);
    expect(of(onShelf(deep), 'late')).toEqual([]);
    const [found] = of(onShelf({ ...deep, drop: 'gun-catch-and-throw' }), 'late');
    expect(found?.says).toContain('out by 1.7 s');
  });

  it('T3 EA1 leaves a man standing who is done long before it', () => {
    expect(of(onShelf(hitchRoute), 'early')).toEqual([]);
    expect(of(onShelf({ ...hitchRoute, drop: 'seven-step' }), 'early')).toEqual([]);
    const short = doubles([
      onlyBranch({ finish: { kind: 'sit' }, decideBy: 1, breakAt: { from: 2, to: 2 } }),
    ]);
    expect(of(onShelf({ ...short, drop: 'seven-step' }), 'early')).toMatchObject([
      { severity: 'note' },
    ]);
  });

  it('EA1 counts from the break: a hitch at four yards off a five-step drop from the gun', () => {
    const hitch = drawn(doubles([throwsTo(z)]), { z: route([[0, 4.5]], [[-1, 3.5]]) });
    expect(of(onShelf({ ...hitch, drop: 'gun-catch-and-throw' }), 'early')).toEqual([]);
    expect(of(onShelf({ ...hitch, drop: 'gun-three-step' }), 'early')).toEqual([]);
    expect(of(onShelf({ ...hitch, drop: 'gun-five-step' }), 'early')).toHaveLength(1);
  });

  it('T3 of a boot is thrown from the side that the first man runs to', () => {
    const [planned] = progressionOf({ ...quickOut, drop: 'boot' })?.throws ?? [];
    expect(planned?.passer.spot).toEqual([7, -9]);
  });
});

describe('a drop that is not called', () => {
  it('T3 LA1 calls no drawn route late for want of it', () => {
    const ways: Route['finish'][] = [[[-8, 0]], [[-1, -2]], [[3, -3]], []];
    for (const by of ways)
      for (let depth = 3; depth <= 16; depth += 0.5) {
        const finish = by.map(([x, y]): [number, number] => [x, depth + y]);
        const play = drawn(doubles([throwsTo(z)]), { z: route([[0, depth]], finish) });
        expect(of(onShelf(play), 'late'), `${depth} yd, ${JSON.stringify(by)}`).toEqual([]);
      }
  });
});

describe('a drop for a choice', () => {
  it('T3 waits for who sits as for who runs on at the same depth', () => {
    for (let depth = 4; depth <= 11; depth += 0.5) {
      const at = { breakAt: { from: depth, to: depth }, decideBy: 3 };
      const ways: ReadCard = {
        ...card([
          row('comes', 'in', is('keyRushes', true)),
          row('stays', 'out', is('keyRushes', false)),
        ]),
        branches: [
          branch('in', { ...at, finish: inBreak(90) }),
          branch('out', { ...at, finish: { kind: 'sit' } }),
        ],
      };
      expect(of(onShelf(doubles([ways])), 'late'), `${depth} yd`).toEqual([]);
    }
  });
});

describe('out of reach', () => {
  const go = (drop: 'gun-three-step' | 'gun-five-step', code: 'highSchool' | 'professional') => {
    const play = doubles([throwsTo(z)]);
    const thrown = { ...play, drop, situation: { ...play.situation, code } };
    return of(onShelf(drawn(thrown, { z: route([[0, 60]], []) })), 'outOfReach');
  };

  it('RE1 a go that a high-school arm would throw off a long drop, none off a shorter one or by a stronger arm', () => {
    expect(go('gun-five-step', 'highSchool')).toMatchObject([
      { severity: 'warn', elements: [{ kind: 'route', player: z }] },
    ]);
    expect(go('gun-three-step', 'highSchool')).toEqual([]);
    expect(go('gun-five-step', 'professional')).toEqual([]);
  });
});

describe('out of room', () => {
  const wideOut = (spot: 'left' | 'middle' | 'right') => {
    const play = doubles([onlyBranch({ finish: outBreak(14) })]);
    const shift = { left: -8.89, middle: 0, right: 8.89 }[spot];
    return {
      ...play,
      situation: { ...play.situation, spot },
      players: play.players.map((player) => ({
        ...player,
        at: [player.at[0] + shift, player.at[1]] as const,
      })),
    };
  };

  it('OR1 warns into the short side, and not into the wide one', () => {
    expect(of(onShelf(wideOut('right')), 'outOfRoom')).toMatchObject([{ severity: 'warn' }]);
    expect(of(onShelf(wideOut('left')), 'outOfRoom').map(({ severity }) => severity)).not.toContain(
      'warn',
    );
  });

  it('OR1 warns at the end line, and not in the open field', () => {
    const seam = (toGoal: number) => {
      const play = doubles([
        onlyBranch({ finish: { kind: 'on', run: 20 }, breakAt: { from: 10, to: 10 } }),
      ]);
      return of(onShelf({ ...play, situation: { ...play.situation, toGoal } }), 'outOfRoom');
    };
    expect(seam(3)).toMatchObject([{ severity: 'warn' }]);
    expect(seam(3)[0]?.says).toContain('end line');
    expect(seam(50)).toEqual([]);
  });
});

describe('crowded', () => {
  const meeting = (depth: number): RuledPlay =>
    drawn(doubles([throwsTo(h)]), {
      h: route([[0, 8]], [[8, 8]]),
      z: route([[0, depth - 1]], [[8, depth - 1]]),
    });

  it('CR1 two outs at one depth, one beyond the other, are apart; at one spot they are not', () => {
    expect(of(onShelf(meeting(20)), 'crowded')).toEqual([]);
    const play = drawn(doubles([throwsTo(h)]), {
      h: route([[0, 8]], [[8, 8]]),
      z: route([[0, 7]], [[-2, 6.5]]),
    });
    const [found] = of(onShelf(play), 'crowded');
    expect(found?.elements).toEqual([
      { kind: 'route', player: h },
      { kind: 'route', player: z },
    ]);
  });
});

describe('who is thrown to', () => {
  it('T1 nobody, where neither the passer nor a receiver has a card', () => {
    const play = drawn(doubles(), {
      h: route([[0, 8]], [[8, 8]], 2),
      z: route([[0, 7]], [[40, 7]]),
    });
    expect(onShelf(play)).toEqual([]);
  });

  it('T1 only whom the passer’s card names, where he has one', () => {
    const late = { finish: outBreak(6), release: { side: 'free', hesitate: 2 } } as const;
    const routes = { z: route([[0, 12]], [[-8, 12]]) };
    expect(of(onShelf(drawn(doubles([onlyBranch(late), throwsTo(z)]), routes)), 'late')).toEqual(
      [],
    );
    expect(
      of(onShelf(drawn(doubles([onlyBranch(late), throwsTo(h)]), routes)), 'late'),
    ).toHaveLength(1);
  });

  it('T3 a later man of the progression is given a hitch and a reset', () => {
    const routes = { z: route([[0, 12]], [[-8, 12]]) };
    const quick = onlyBranch({ finish: outBreak(6) });
    expect(of(onShelf(drawn(doubles([quick, throwsTo(h, z)]), routes)), 'late')).toEqual([]);
  });
});

describe('undercut', () => {
  /** H's in-break, a linebacker where it is thrown, and ten men far from it. */
  const inRoute = (angle: number) =>
    doubles([onlyBranch({ finish: inBreak(angle), breakAt: { from: 6, to: 6 } })]);
  const far = (i: number): Defender => defender(`far${i}`, 'deep', [-20 + i, 35]);
  const withMan = (man: Defender): AlignedLook =>
    look(man, ...Array.from({ length: 10 }, (_, i) => far(i)));
  const inLane = defender('m', 'second', [6.5, 4.5]);

  it('UC1 T7 a linebacker in the lane is told with his margin, and shown', () => {
    const [found, ...more] = of(against(inRoute(90), withMan(inLane)), 'undercut');
    expect(more).toEqual([]);
    expect(found).toMatchObject({ severity: 'warn', elements: [{ kind: 'branch', player: h }] });
    expect(found?.says).toMatch(/M in "By hand" is under the ball .* yd deep, 0\.\d+ s before/);
    expect(found?.witness?.look.defenders[0]?.id).toBe(defenderIdSchema.parse('m'));
  });

  it('UC1 T8 none with him out of reach, on the rush, or with another man', () => {
    const clear = (man: Defender) => of(against(inRoute(90), withMan(man)), 'undercut');
    expect(clear(defender('m', 'second', [-6, 4.5]))).toEqual([]);
    expect(clear(defender('m', 'second', [6.5, 4.5], ['rush', [0, -5]]))).toEqual([]);
    expect(clear(defender('m', 'second', [6.5, 4.5], ['man', [-19, -0.5]]))).toEqual([]);
  });

  it('T10 the angle of the mend clears him, and is a number to teach', () => {
    const man = defender('m', 'second', [5, 7.5]);
    const [found] = of(against(inRoute(60), withMan(man)), 'undercut');
    const angle = /(\d+)° off upfield/.exec(found?.mend ?? '')?.[1];
    const clears = (degrees: number) =>
      of(against(inRoute(degrees), withMan(man)), 'undercut').length === 0;
    expect(Number(angle)).toBeGreaterThan(0);
    expect(clears(Number(angle))).toBe(true);
  });
});

describe('mends', () => {
  const mended = (play: RuledPlay, found: Finding | undefined): RuledPlay => {
    const [mend] = found?.mends ?? [];
    if (!mend) throw new Error('no mend is offered');
    return applyMend(play, mend);
  };

  it('M1 late: the depth can be made, and takes the finding away', () => {
    const { branches, ...rest } = onlyBranch({ finish: outBreak(6) });
    const deep = branch('out', { finish: outBreak(6), breakAt: { from: 14, to: 14 }, decideBy: 4 });
    const play = doubles([
      {
        ...rest,
        rows: [
          row('comes', 'in', is('keyRushes', true)),
          row('stays', 'out', is('keyRushes', false)),
        ],
        branches: [...branches, deep],
      },
    ]);
    const [found] = of(onShelf(play), 'late');
    expect(of(onShelf(mended(play, found)), 'late')).toEqual([]);
  });

  it('M1 undercut: the angle can be made, and takes the finding away', () => {
    const man = defender('m', 'second', [5, 7.5]);
    const others = Array.from({ length: 10 }, (_, i) => defender(`far${i}`, 'deep', [-20 + i, 35]));
    const play = doubles([
      onlyBranch({ finish: inBreak(60), breakAt: { from: 6, to: 6 }, decideBy: 3 }),
    ]);
    const findings = (one: RuledPlay) => of(against(one, look(man, ...others)), 'undercut');
    const [found] = findings(play);
    expect(found?.mends?.[0]).toMatchObject({ do: 'setFinish', finish: { kind: 'in' } });
    expect(findings(mended(play, found))).toEqual([]);
  });
});

describe('any play', () => {
  /** A drawn play whose passer throws to everybody, so that each of its ways is put to the clock. */
  const thrownAbout = fullBoard().map(({ play }): RuledPlay => {
    const passer = play.players.find(({ position }) => position === 'QB');
    const others = play.players.filter((player) => player !== passer).map(({ id }) => id);
    const [first] = others;
    if (!passer || !first) return play;
    const own = { ...throwsTo(...(others as [typeof h])), player: passer.id };
    return { ...play, cards: [...play.cards.filter(({ player }) => player !== passer.id), own] };
  });

  it('F2 F3 gives findings that read, without NaN and without a throw', () => {
    let thrown = 0;
    fc.assert(
      fc.property(thrownAbout, (play) => {
        for (const found of check(play, builtInLooks.slice(0, 4))) {
          expect(findingSchema.safeParse(found).success).toBe(true);
          expect(`${found.says} ${found.mend} ${found.witness?.says ?? ''}`).not.toMatch(
            /NaN|Infinity|undefined|null/,
          );
          if (['late', 'early', 'crowded', 'outOfRoom', 'undercut'].includes(found.kind))
            thrown += 1;
        }
      }),
      { numRuns: 300 },
    );
    expect(thrown).toBeGreaterThan(10);
  });

  it('F1 gives the same findings again, and one for each kind, man and way', () => {
    const play = doubles([onlyBranch({ finish: inBreak(90), eyes: 2 })]);
    const found = onShelf(play);
    expect(onShelf(play)).toEqual(found);
    expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
  });
});
