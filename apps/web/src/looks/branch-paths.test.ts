import { playerIdSchema } from '@stemline/football/ids';
import { type Branch, branchIdSchema, type ReadCard } from '@stemline/read-rules/card';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { describe, expect, it } from 'vitest';
import { formationPlay, plainSituation } from '../book/formation-play.ts';
import { plainHead } from '../card/new-card.ts';
import { boardBranches, everyBranch, optionMen } from './branch-paths.ts';

const [h, q] = ['h', 'q'].map((label) => playerIdSchema.parse(label));
if (!h || !q) throw new Error('two men are needed');

type Finish = Extract<Branch, { kind: 'route' }>['finish'];
const branch = (name: string, finish: Finish, breakAt = { from: 5, to: 6 }): Branch => ({
  id: branchIdSchema.parse(name),
  name,
  kind: 'route',
  finish,
  release: { side: 'free', hesitate: 0 },
  decideBy: 3,
  breakAt,
  eyes: 0,
});
const option: ReadCard = {
  player: h,
  head: plainHead,
  rows: [],
  branches: [
    branch('IN', { kind: 'in', angle: 90, run: 7 }),
    branch('OUT', { kind: 'out', angle: 90, run: 6 }),
    branch('SIT', { kind: 'sit' }),
    branch('GO', { kind: 'on', run: 8 }, { from: 10, to: 12 }),
  ],
};
const passer: ReadCard = {
  player: q,
  head: plainHead,
  rows: [],
  branches: [{ id: branchIdSchema.parse('first'), name: 'FIRST', kind: 'target', player: h }],
};
const drawn = formationPlay('doubles', plainSituation('highSchool', 'middle'), 'right');
const man = drawn.players.find(({ id }) => id === h);
if (!man) throw new Error('doubles has an H');
const breaksAt = [man.at[0], man.at[1] + 7] as const;
const play: RuledPlay = {
  ...drawn,
  routes: {
    [h]: {
      release: { side: 'free', hesitate: 0 },
      stem: [[0, 7]],
      finish: [],
      shape: 'sharp',
      name: '',
    },
  },
  cards: [option, passer],
};

describe('the branches of the cards, as lines', () => {
  it('are all drawn by name from where his man breaks; throws are not', () => {
    const paths = everyBranch(play);
    expect(paths.map(({ label, end }) => [label, end])).toEqual([
      ['IN', 'arrow'],
      ['OUT', 'arrow'],
      ['SIT', 'dot'],
      ['GO', 'arrow'],
    ]);
    for (const { points } of paths) expect(points[0]).toEqual(breaksAt);
    expect(optionMen(play)).toEqual([h]);
  });

  it('have the way to a break further on than the drawn one', () => {
    const go = everyBranch(play).find(({ label }) => label === 'GO');
    expect(go?.points.map(([, y]) => y)).toEqual([breaksAt[1], 10, 18]);
  });

  it('put the dot of who sits down clear of the lines that leave from there', () => {
    const sit = everyBranch(play).find(({ label }) => label === 'SIT');
    expect(sit?.points.at(-1)?.[1]).toBeGreaterThan(breaksAt[1] + 0.5);
  });

  it('are drawn with no stem on the play too', () => {
    const [first] = everyBranch({ ...play, routes: {} });
    expect(first?.points[0]).toEqual(man.at);
  });

  it('are quiet on the working board, but for those of who is picked', () => {
    const emphases = (picked: Parameters<typeof boardBranches>[2]) => [
      ...new Set(boardBranches(play, null, picked).map(({ emphasis }) => emphasis)),
    ];
    expect(emphases([])).toEqual(['quiet']);
    expect(emphases([q])).toEqual(['quiet']);
    expect(emphases([h])).toEqual(['plain']);
  });

  it('light up what answers the look, the throw too', () => {
    const answer = option.branches[1] as Branch;
    const standing = {
      look: { id: 'none', name: '', traits: {}, defenders: [] },
      reactions: {},
      answers: new Map([
        [h, { branch: answer }],
        [q, { branch: passer.branches[0] }],
      ]),
    } as unknown as Parameters<typeof boardBranches>[1];
    const lit = boardBranches(play, standing, []).filter(({ emphasis }) => emphasis === 'lit');
    expect(lit.map(({ label, labelAt }) => [label, labelAt])).toEqual([
      ['OUT', 'end'],
      ['FIRST', 'middle'],
    ]);
    expect(boardBranches(play, standing, [])).toHaveLength(5);
  });
});
