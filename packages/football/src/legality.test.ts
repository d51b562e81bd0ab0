import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { eligibleReceivers } from './legality/line.ts';
import { legality } from './legality.ts';
import type { Play, Player } from './play.ts';
import {
  anyDrawing,
  anyFormation,
  formationPlay,
  id,
  midfield,
  mirrorPlay,
  withMotion,
} from './plays.test-kit.ts';

const rules = (play: Play): string[] => legality(play).map(({ rule }) => rule);
const change = (play: Play, who: string, edit: Partial<Player>): Play => ({
  ...play,
  players: play.players.map((player) => (player.id === id(who) ? { ...player, ...edit } : player)),
});
const under = (code: Play['situation']['code']): Play =>
  formationPlay('doubles', { situation: { ...midfield, code } });
const doubles = formationPlay('doubles');
const spotOf = (who: string): Player['at'] =>
  doubles.players.find((player) => player.id === id(who))?.at ?? [0, 0];
const codes = ['highSchool', 'college', 'professional'] as const;

describe('legality', () => {
  it('finds nothing against the formations, and names its source where it finds something', () => {
    expect(legality(doubles)).toEqual([]);
    fc.assert(
      fc.property(anyDrawing, (play) => {
        for (const { says, source } of legality(play)) {
          expect(says).not.toBe('');
          expect(source).not.toBe('');
        }
      }),
    );
  });

  it('says the same of a play and its mirror', () => {
    fc.assert(
      fc.property(fc.oneof(anyDrawing, anyFormation), (play) => {
        expect(rules(mirrorPlay(play)).sort()).toEqual(rules(play).sort());
      }),
    );
  });

  it('a man three quarters of a yard to a yard back is neither on the line nor a back', () => {
    const at = (y: number) => rules(change(doubles, 'a', { at: [spotOf('a')[0], y] }));
    expect(at(-0.75)).not.toContain('nobodysLand');
    expect(at(-0.9)).toContain('nobodysLand');
    expect(at(-1)).not.toContain('nobodysLand');
  });

  it('but the man under the snapper may crouch there', () => {
    expect(rules(change(doubles, 'q', { at: [0, -0.95] }))).toEqual([]);
  });

  it('where nobody snaps, the man who is missing is not missed again', () => {
    for (const code of codes) {
      const play = under(code);
      const players = play.players.filter(({ position }) => position !== 'C');
      expect(rules({ ...play, players })).toEqual(['noSnapper']);
    }
  });

  it('two in one place, one number twice, over the line, no snapper', () => {
    expect(rules(change(doubles, 'f', { at: [0.3, -5] }))).toContain('samePlace');
    expect(rules(change(doubles, 'f', { number: 12 }))).toContain('sameNumber');
    expect(rules(change(doubles, 'f', { at: [3, 0.5] }))).toContain('overLine');
    expect(rules(change(doubles, 'c', { position: 'G' }))).toContain('noSnapper');
  });

  it('a receiver in a lineman’s number is a caution, and one lineman’s number short is a foul', () => {
    const receiver = legality(change(doubles, 'a', { number: 60 }));
    expect(receiver).toMatchObject([
      { rule: 'ineligibleNumber', weight: 'caution', players: [id('a')] },
    ]);
    for (const code of codes)
      expect(rules(change(under(code), 'lg', { number: 44 })).includes('lineNumbers'), code).toBe(
        code !== 'professional',
      );
  });

  it('90 to 99 is a lineman’s number in the professional code only', () => {
    for (const code of codes)
      expect(
        rules(change(under(code), 'a', { number: 92 })).includes('ineligibleNumber'),
        code,
      ).toBe(code === 'professional');
  });
});

describe('motion', () => {
  const moving = (who: string, ...path: [number, number][]): Play =>
    withMotion(doubles, who, { path, atSnap: 'moving' });

  it('of one back along the line is legal, and backward too', () => {
    expect(rules(moving('h', [-6, 0]))).toEqual([]);
    expect(rules(moving('h', [-6, -2]))).toEqual([]);
  });

  it('toward the line at the snap is a foul; earlier in the path it is not', () => {
    expect(rules(moving('f', [3, 2]))).toContain('motionToward');
    expect(rules(moving('f', [3, 2], [8, 2]))).toEqual([]);
  });

  it('of two at the snap is a foul, unless one is set again', () => {
    const two = withMotion(moving('h', [-6, 0]), 'a', { path: [[6, 0]], atSnap: 'moving' });
    expect(rules(two)).toContain('motionCount');
    const shifted = withMotion(moving('h', [-6, 0]), 'a', { path: [[6, 0]], atSnap: 'set' });
    expect(rules(shifted)).toEqual([]);
  });

  it('from the line: five yards back makes it good in high school only', () => {
    const fromLine = (code: (typeof codes)[number], y: number): string[] =>
      rules(withMotion(under(code), 'z', { path: [[-9, y]], atSnap: 'moving' }));
    expect(fromLine('highSchool', -4)).toContain('motionFromLine');
    expect(fromLine('highSchool', -4.5)).not.toContain('motionFromLine');
    expect(fromLine('college', -4.5)).toContain('motionFromLine');
    expect(fromLine('professional', -4.5)).toContain('motionFromLine');
  });
});

describe('eligible receivers', () => {
  it('are the ends and the backs, whoever is drawn', () => {
    expect(
      eligibleReceivers(doubles)
        .map(({ label }) => label)
        .sort(),
    ).toEqual(['A', 'F', 'H', 'Q', 'X', 'Z']);
  });
});
