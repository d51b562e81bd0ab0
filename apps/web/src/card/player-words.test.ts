import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import {
  type Branch,
  branchSchema,
  type CardHead,
  type ReadCard,
  readCardSchema,
} from '@stemline/read-rules/card';
import { describe, expect, it } from 'vitest';
import { branchForPlayer, keyForPlayer, sideManForPlayer } from './player-words.ts';

const situation = {
  code: 'college',
  spot: 'middle',
  toGoal: 60,
  down: 1,
  toGain: 10,
} as const;
const play: Play = {
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }),
  routes: {},
  motions: {},
};
const h = playerIdSchema.parse('h');
const key: CardHead['key'] = {
  levels: ['line', 'second', 'corner'],
  maxDepth: 8,
  over: null,
  direction: 'inside',
  reach: 8,
  headUp: 0.5,
  tie: 0.3,
};
const cardOf = (
  player: string,
  change: Partial<CardHead['key']> = {},
  asksSide = false,
): ReadCard =>
  readCardSchema.parse({
    player,
    head: {
      title: '',
      key: { ...key, ...change },
      sideMan: { width: 3, depth: 6 },
      policy: 'unique',
      whenInDoubt: null,
      noKey: null,
    },
    rows: asksSide
      ? [
          {
            id: 'r',
            conditions: [{ kind: 'is', fact: 'manOutside', value: true }],
            branch: 'sit',
            says: '',
          },
        ]
      : [],
    branches: [],
  });
const branch = (change: object): Branch =>
  branchSchema.parse({
    id: 'b',
    name: 'IN',
    kind: 'route',
    finish: { kind: 'in', angle: 95, run: 6 },
    release: { side: 'free', hesitate: 0.2 },
    decideBy: 4,
    breakAt: { from: 5, to: 6 },
    eyes: 0.2,
    ...change,
  });

describe('a card as its player is told', () => {
  it('says who his key is', () => {
    expect(keyForPlayer(play, cardOf('h'))).toBe(
      "Key: first man from head-up on you to 8 yd inside, no deeper than 8 yd (safeties don't count).",
    );
    expect(keyForPlayer(play, cardOf('q', { over: h, direction: 'outside', reach: 4.5 }))).toBe(
      "Key: first man from head-up on H to 4.5 yd outside, no deeper than 8 yd (safeties don't count).",
    );
    expect(keyForPlayer(play, cardOf('h', { levels: ['line', 'second'] }))).toContain(
      "(corners and safeties don't count)",
    );
    expect(keyForPlayer(play, cardOf('h', { levels: ['deep'], maxDepth: 20 }))).toBe(
      'Key: first safety from head-up on you to 8 yd inside, no deeper than 20 yd.',
    );
    const all = cardOf('h', { levels: ['line', 'second', 'corner', 'deep'] });
    expect(keyForPlayer(play, all)).not.toContain('(');
  });

  it('tells of the man on the other side only where a row asks for him', () => {
    expect(sideManForPlayer(play, cardOf('h'))).toBe('');
    expect(sideManForPlayer(play, cardOf('h', {}, true))).toBe(
      'Man on the other side: within 3 yd outside of you, no deeper than 6 yd.',
    );
  });

  it('tells a break in words, without degrees and split seconds', () => {
    expect(branchForPlayer(play, branch({}))).toBe(
      'break in at 5 to 6 yd, coming back toward the quarterback a little, decide by 4 yd, hesitate first, eyes to the quarterback out of the break',
    );
    expect(branchForPlayer(play, branch({ finish: { kind: 'out', angle: 90, run: 8 } }))).toMatch(
      /^break out at 5 to 6 yd, flat,/,
    );
    expect(branchForPlayer(play, branch({ finish: { kind: 'sit' }, eyes: 0 }))).toBe(
      'sit down at 5 to 6 yd, decide by 4 yd, hesitate first',
    );
  });

  it('tells the passer whom to throw to', () => {
    const target = branchSchema.parse({ id: 't', name: 'H', kind: 'target', player: 'h' });
    expect(branchForPlayer(play, target)).toBe('throw to H');
  });
});
