import { playerIdSchema } from '@stemline/football/ids';
import { builtInLooks } from '@stemline/football/shelf';
import { handPlay, ruledPlay } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { branchIdSchema, type ReadCard } from './card.ts';
import { check } from './check.ts';
import { evaluate } from './evaluate.ts';
import { type Finding, type FindingKind, findingSchema } from './finding.ts';
import type { RuledPlay } from './ruled-play.ts';
import {
  anyCard,
  branch,
  card,
  doubles,
  h,
  head,
  is,
  oneOf,
  q,
  range,
  row,
} from './testing/cards.ts';

const out = branchIdSchema.parse('out');
/** What is said of how cards are read and proved; throws have tests of their own (timing.test.ts). */
const checked = (...cards: readonly ReadCard[]): readonly Finding[] =>
  check(doubles(cards), builtInLooks).filter(({ kind }) => !ofThrows.includes(kind));
const ofThrows: readonly FindingKind[] = [
  'late',
  'early',
  'crowded',
  'outOfRoom',
  'outOfReach',
  'undercut',
];
const kinds = (findings: readonly Finding[]): FindingKind[] => findings.map(({ kind }) => kind);
const of = (findings: readonly Finding[], kind: FindingKind): Finding[] =>
  findings.filter((one) => one.kind === kind);

/** Rows that answer everything: a bracket, a rush, and the rest. */
const complete = [
  row('comes', 'in', is('keyRushes', true)),
  row('near', 'out', range('keyOffset', ',2]'), is('keyRushes', false)),
  row('far', 'sit', range('keyOffset', '(2,'), is('keyRushes', false)),
];
const clean = card(complete, { whenInDoubt: out });

function shown(play: RuledPlay, read: ReadCard, { witness }: Finding) {
  if (!witness) throw new Error('the finding has no witness');
  expect(witness.look.defenders).toHaveLength(11);
  for (const [i, a] of witness.look.defenders.entries()) {
    expect(a.at[1]).toBeGreaterThan(0);
    expect(Math.abs(a.at[0])).toBeLessThanOrEqual(80 / 3);
    for (const b of witness.look.defenders.slice(i + 1)) {
      expect(Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])).toBeGreaterThan(0.79);
    }
  }
  return evaluate(play, read, witness.look, witness.reactions);
}

describe('a clean card', () => {
  it('F3 G2 G3 has nothing said against it', () => {
    expect(checked(clean)).toEqual([]);
  });

  it('D1 without when in doubt gets a note, no more', () => {
    expect(checked(card(complete))).toMatchObject([{ kind: 'noDefault', severity: 'note' }]);
  });
});

describe('gap', () => {
  const gapped = card(complete.filter(({ id }) => id !== 'far'));

  it('G1 stops the play, says where in words, and shows it', () => {
    const [gap, ...more] = of(checked(gapped), 'gap');
    expect(more).toEqual([]);
    expect(gap).toMatchObject({ severity: 'stop', elements: [{ kind: 'card', player: h }] });
    expect(gap?.says).toBe(
      'When the key sits more than 2.0 yd inside and does not rush, no row answers.',
    );
    if (gap) expect(shown(doubles(), gapped, gap)).toMatchObject({ row: null, fits: [] });
  });

  it('D2 a missing default is then a warning', () => {
    expect(of(checked(gapped), 'noDefault')).toMatchObject([{ severity: 'warn' }]);
  });

  it('G2 is closed by when in doubt', () => {
    expect(
      checked({ ...gapped, head: head({ whenInDoubt: branchIdSchema.parse('sit') }) }),
    ).toEqual([]);
  });

  it('W3 for which no defence is found is a note that says so', () => {
    // Without a shelf there is no look to make a defence from.
    const shallow = card([row('a', 'in', range('keyDepth', '[3,'))]);
    const [gap] = of(check(doubles([shallow]), []), 'gap');
    expect(gap).toMatchObject({ severity: 'note', witness: null });
    expect(gap?.says).toContain('No defense was found');
    expect(of(checked(shallow), 'gap')).toMatchObject([{ severity: 'stop' }]);
  });

  it('P6 where nobody can stand is none', () => {
    expect(of(checked(card([row('a', 'in', range('keyDepth', '[0.5,'))])), 'gap')).toEqual([]);
  });

  it('W1 W2 is shown by an adjusted look where none of the shelf shows it', () => {
    const odd = card(
      [
        row('a', 'in', oneOf('front', 'even')),
        row('b', 'out', oneOf('shell', 'oneHigh', 'twoHigh')),
      ],
      { policy: 'first' },
    );
    const without = builtInLooks.filter(
      ({ traits }) => traits.front !== 'odd' || traits.shell !== 'zero',
    );
    const [gap] = of(check(doubles([odd]), without), 'gap');
    expect(gap?.witness?.look.name).toContain('adjusted');
    if (gap)
      expect(shown(doubles(), odd, gap)).toMatchObject({
        row: null,
        facts: { front: 'odd', shell: 'zero' },
      });
  });

  it('F4 tells forty one by one and counts the rest', () => {
    const rows = Array.from({ length: 60 }, (_, i) =>
      row(`r${i}`, 'in', range('keyOffset', `[${i / 10},${i / 10}]`)),
    );
    const found = of(checked(card(rows)), 'gap');
    expect(found).toHaveLength(41);
    expect(found.filter(({ severity }) => severity === 'warn')).toHaveLength(1);
  });
});

describe('clash', () => {
  const clashing = card([
    ...complete,
    row('deep', 'sit', range('keyDepth', '[6,'), is('keyRushes', true)),
  ]);

  it('C1 stops the play, names the rows, and shows both fit', () => {
    const [clash, ...more] = of(checked(clashing), 'clash');
    expect(more).toEqual([]);
    expect(clash).toMatchObject({
      severity: 'stop',
      elements: [
        { kind: 'row', row: 'comes' },
        { kind: 'row', row: 'deep' },
      ],
    });
    expect(clash?.says).toBe(
      'When the key lines up 6.0 yd or more deep and rushes, row 1 and row 4 both answer and disagree: IN and SIT.',
    );
    if (clash)
      expect(shown(doubles(), clashing, clash)).toMatchObject({
        row: null,
        fits: ['comes', 'deep'],
      });
  });

  it('C2 is a note where the rows agree', () => {
    const agreeing = card([
      row('near', 'in', range('keyOffset', ',3]')),
      row('middle', 'in', range('keyOffset', '[2,5]')),
      row('far', 'out', range('keyOffset', '(5,')),
    ]);
    expect(of(checked(agreeing), 'clash')).toMatchObject([
      { severity: 'note', elements: [{ row: 'near' }, { row: 'middle' }] },
    ]);
  });

  it('C2 says nothing where a row that agrees is told as never used', () => {
    const within = card([
      ...complete,
      row('again', 'in', is('keyRushes', true), range('keyDepth', '[1,')),
    ]);
    expect(kinds(checked(within))).toEqual(['neverUsed', 'noDefault']);
  });

  it('C5 does not exist under first', () => {
    expect(of(checked({ ...clashing, head: head({ policy: 'first' }) }), 'clash')).toEqual([]);
  });
});

describe('never used', () => {
  it('N1 warns of a row that earlier rows hide', () => {
    const hidden = card([...complete, row('late', 'sit', is('keyRushes', true))], {
      policy: 'first',
      whenInDoubt: out,
    });
    expect(checked(hidden)).toMatchObject([
      {
        kind: 'neverUsed',
        severity: 'warn',
        elements: [{ row: 'late' }, { row: 'comes' }],
        says: "Row 4 of H's card is never reached: row 1 always fits before it.",
      },
    ]);
  });

  it('N3 warns of a row that can never be true', () => {
    const never = [range('keyOffset', '[9,'), range('keyOffset', '(3,2)')].map((asked) =>
      row('never', 'sit', asked),
    );
    for (const one of never) {
      expect(checked(card([...complete, one], { whenInDoubt: out }))).toMatchObject([
        { kind: 'neverUsed', severity: 'warn' },
      ]);
    }
  });

  it('N4 notes a row for another formation', () => {
    const trips = row('trips', 'sit', range('receiversThisSide', '[3,]'));
    expect(
      checked(card([...complete, trips], { whenInDoubt: out, policy: 'first' })),
    ).toMatchObject([{ kind: 'neverUsed', severity: 'note' }]);
  });
});

describe('keys', () => {
  const narrow = { ...head().key, reach: 3 };

  it('K1 stops a card that finds no key somewhere and has no answer', () => {
    const found = of(checked(card(complete, { noKey: null, key: narrow })), 'noKey');
    expect(found).toMatchObject([{ severity: 'stop' }]);
    expect(found[0]?.witness?.look.defenders).toHaveLength(11);
    expect(
      of(checked(card(complete, { noKey: null, key: narrow, whenInDoubt: out })), 'noKey'),
    ).toMatchObject([{ severity: 'warn' }]);
    expect(of(checked(card(complete, { key: narrow })), 'noKey')).toEqual([]);
  });

  it('K1 asks nothing of a card that never reads its key', () => {
    const front = card([row('a', 'in', oneOf('front', 'even', 'odd'))], {
      noKey: null,
      key: narrow,
    });
    expect(of(checked(front), 'noKey')).toEqual([]);
  });

  it('K2 tells two keys, once a card', () => {
    const loose = { ...head().key, tie: 3, reach: 12 };
    expect(of(checked(card(complete, { key: loose })), 'twoKeys')).toMatchObject([
      { severity: 'stop' },
    ]);
    expect(of(checked(card(complete, { key: loose, whenInDoubt: out })), 'twoKeys')).toMatchObject([
      { severity: 'warn' },
    ]);
  });
});

describe('decision', () => {
  const with_ = (decideBy: number): readonly Finding[] =>
    checked({ ...clean, branches: [branch('in', { decideBy }), branch('out'), branch('sit')] });

  it('L1 L2 a decision after the break', () => {
    expect(with_(5)).toEqual([]);
    expect(with_(5.5)).toMatchObject([
      { kind: 'lateDecision', severity: 'warn', elements: [{ kind: 'branch', branch: 'in' }] },
    ]);
    expect(with_(7)).toMatchObject([{ kind: 'lateDecision', severity: 'stop' }]);
  });

  it('S2 what has not shown yet when he decides', () => {
    const middle = [
      row('open', 'in', oneOf('middle', 'open')),
      row('closed', 'out', oneOf('middle', 'closed')),
    ];
    const decided = (decideBy: number) =>
      of(
        checked({ ...card(middle), branches: [branch('in', { decideBy }), branch('out')] }),
        'unseen',
      );
    expect(decided(4)).toEqual([]);
    expect(decided(3.5)).toMatchObject([{ severity: 'warn', elements: [{ row: 'open' }] }]);
    const x = playerIdSchema.parse('x');
    const atOnce = {
      ...clean,
      player: x,
      branches: [branch('in', { decideBy: 0 }), branch('out'), branch('sit')],
    };
    const early = { ...atOnce, rows: [row('drops', 'in', oneOf('keyMove', 'drop'))] };
    expect(of(checked(early), 'unseen')).toMatchObject([
      { severity: 'warn', elements: [{ row: 'drops' }] },
    ]);
  });

  it('S1 S3 a runner cannot count the rush; a passer can', () => {
    const rush = [row('five', 'in', range('rushers', '[5,'))];
    expect(of(checked(card(rush, { whenInDoubt: out })), 'unseen')).toMatchObject([
      { severity: 'stop' },
    ]);
    const passer: ReadCard = {
      ...card(
        rush.map((one) => ({ ...one, branch: out })),
        { whenInDoubt: out },
      ),
      player: q,
      branches: [{ id: out, name: 'H', kind: 'target', player: h }],
    };
    expect(of(checked(passer), 'unseen')).toEqual([]);
  });
});

describe('unfinished', () => {
  const stops = (read: ReadCard): Finding[] =>
    of(checked(read), 'unfinished').filter(({ severity }) => severity === 'stop');

  it('U1 a card without rows', () => {
    expect(kinds(checked(card([])))).toContain('unfinished');
    expect(of(checked(card([])), 'gap')).toEqual([]);
  });

  it('U2 a branch that is not there', () => {
    expect(stops(card([...complete, row('x', 'nowhere', is('keyRushes', true))]))).toMatchObject([
      { elements: [{ kind: 'row', row: 'x' }] },
    ]);
    expect(stops(card(complete, { whenInDoubt: branchIdSchema.parse('nowhere') }))).toHaveLength(1);
  });

  it('U3 somebody who is not on the field', () => {
    const gone = playerIdSchema.parse('gone');
    expect(stops({ ...clean, player: gone })).toHaveLength(1);
    expect(stops({ ...clean, head: head({ key: { ...head().key, over: gone } }) })).toHaveLength(1);
    const throws = {
      ...clean,
      branches: [
        ...clean.branches,
        { id: branchIdSchema.parse('to'), name: 'TO', kind: 'target' as const, player: gone },
      ],
    };
    expect(stops(throws)).toHaveLength(1);
  });

  it('U4 what has no meaning is told with its place, and nothing is concluded from it', () => {
    const twice = checked(clean, card([]));
    expect(twice).toMatchObject([{ kind: 'unfinished', severity: 'stop' }]);
    expect(twice[0]?.says).toContain('cards.1.player');
    const odd = checked(card([row('a', 'in', is('front', true))]));
    expect(kinds(odd)).toEqual(['unfinished']);
    const nan = check(
      { ...doubles([clean]), situation: { ...doubles().situation, toGoal: Number.NaN } },
      builtInLooks,
    );
    expect(kinds(nan)).toEqual(['unfinished']);
  });

  it('U8 ten men are told, eleven are not', () => {
    const play = handPlay();
    const [gone, ...ten] = play.players;
    if (!gone) throw new Error('nobody is drawn');
    const told = check({ ...play, players: ten, routes: {}, cards: [] }, builtInLooks);
    expect(told.find(({ elements }) => elements[0]?.kind === 'formation')).toMatchObject({
      kind: 'unfinished',
      severity: 'warn',
      says: '10 men are drawn; eleven play.',
    });
    expect(kinds(check(play, builtInLooks))).not.toContain('unfinished');
  });

  it('U5 U6 a break range that is none, a branch that nothing leads to', () => {
    const broken = {
      ...clean,
      branches: [
        branch('in', { breakAt: { from: 6, to: 5 } }),
        branch('out'),
        branch('sit'),
        branch('spare'),
      ],
    };
    expect(of(checked(broken), 'unfinished').map(({ severity }) => severity)).toEqual([
      'stop',
      'note',
    ]);
  });
});

describe('illegal formation', () => {
  it('I1 names the rule of the code and its section', () => {
    const play = doubles();
    const five = {
      ...play,
      players: play.players.map((player) =>
        player.id === playerIdSchema.parse('x')
          ? { ...player, at: [player.at[0], -1.5] as const }
          : player,
      ),
    };
    const found = of(check(five, builtInLooks), 'illegalFormation');
    expect(found.some(({ severity, says }) => severity === 'stop' && says.includes('NFHS'))).toBe(
      true,
    );
  });

  it('I1 I2 names the motion or the route that is against it, so that who drew it is named', () => {
    const play = doubles();
    const z = playerIdSchema.parse('z');
    const moving = { path: [[-2, 0] as const], atSnap: 'moving' as const };
    const two = { ...play, motions: { [h]: moving, [z]: moving } };
    const motion = of(check(two, builtInLooks), 'illegalFormation').find(({ says }) =>
      says.startsWith('2 men'),
    );
    expect(motion?.elements).toEqual(
      play.players.flatMap(({ id }) =>
        id === h || id === z ? [{ kind: 'motion', player: id }] : [],
      ),
    );
    const out = {
      release: { side: 'free' as const, hesitate: 0 },
      stem: [[0, 8] as const],
      finish: [[30, 8] as const],
      shape: 'sharp' as const,
      name: '',
    };
    const route = of(check({ ...play, routes: { [z]: out } }, builtInLooks), 'illegalFormation');
    expect(route[0]?.elements).toEqual([{ kind: 'route', player: z }]);
  });
});

describe('a throw to a man who may not catch it', () => {
  const throwing = card([row('any', 'throw')], {
    whenInDoubt: branchIdSchema.parse('throw'),
    noKey: branchIdSchema.parse('throw'),
  });
  const toH: ReadCard = {
    ...throwing,
    player: q,
    head: { ...throwing.head, key: { ...throwing.head.key, over: h } },
    branches: [{ kind: 'target', id: branchIdSchema.parse('throw'), name: 'H', player: h }],
  };
  const standing = (at: number): RuledPlay => {
    const play = doubles([toH]);
    const players = play.players.map((player) =>
      player.id === h ? { ...player, at: [player.at[0], at] as const } : player,
    );
    return { ...play, players };
  };
  const stops = (play: RuledPlay) =>
    of(check(play, builtInLooks), 'illegalFormation').filter(({ severity }) => severity === 'stop');

  it('I3 stops the play where the slot he throws to is covered', () => {
    expect(stops(standing(-1.5))).toEqual([]);
    expect(stops(standing(-0.5))).toMatchObject([
      {
        elements: [
          { kind: 'card', player: q },
          { kind: 'player', player: h },
        ],
      },
    ]);
  });
});

describe('whatever it is given', () => {
  it('F2 F3 it never throws, and every finding is whole', () => {
    let findings = 0;
    fc.assert(
      fc.property(ruledPlay(), (play) => {
        for (const finding of check(play, builtInLooks.slice(0, 4))) {
          findings++;
          expect(findingSchema.safeParse(finding).error?.issues ?? []).toEqual([]);
          expect(JSON.stringify(finding)).not.toMatch(/NaN|Infinity/);
        }
      }),
      { numRuns: 150 },
    );
    expect(findings).toBeGreaterThan(100);
  }, 60_000);

  it('F1 W2 it says the same twice, and every gap and clash that stops is shown by its witness', () => {
    let shownCount = 0;
    let notes = 0;
    fc.assert(
      fc.property(anyCard(), (read) => {
        const play = doubles([read]);
        const found = check(play, builtInLooks);
        expect(check(JSON.parse(JSON.stringify(play)), builtInLooks)).toEqual(found);
        expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
        for (const finding of found) {
          if (finding.kind === 'gap' && finding.severity === 'stop') {
            expect(shown(play, read, finding)).toMatchObject({ row: null, fits: [] });
            shownCount++;
          } else if (finding.kind === 'clash' && finding.severity === 'stop') {
            const { row: answer, fits } = shown(play, read, finding);
            expect(answer).toBeNull();
            for (const element of finding.elements)
              if (element.kind === 'row') expect(fits).toContain(element.row);
            shownCount++;
          } else if (finding.kind === 'gap') notes++;
        }
      }),
      { numRuns: 40 },
    );
    expect(shownCount).toBeGreaterThan(20);
    expect(notes).toBeLessThan(shownCount);
  }, 60_000);

  it('W2 a clash is not shown by a look to which the card answers that there is no key (found by the property above)', () => {
    const read = card([row('r1', 'in', range('roomOutside', '(2.5,')), row('r2', 'out')], {
      key: { ...head().key, direction: 'outside' },
    });
    const [clash] = of(checked(read), 'clash');
    if (!clash) throw new Error('no clash');
    expect(shown(doubles(), read, clash)).toMatchObject({ row: null, fits: ['r1', 'r2'] });
  });

  it('F2 an empty board, and a board of players alone, are silent, illegal or short of men', () => {
    expect(kinds(check(handPlay(), builtInLooks))).toEqual([]);
    expect(new Set(kinds(check({ ...handPlay(), players: [] }, builtInLooks)))).toEqual(
      new Set(['illegalFormation', 'unfinished']),
    );
  });
});
