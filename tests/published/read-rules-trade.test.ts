/**
 * A slot receiver's choice route as it is commonly taught (common practice, no single source): his
 * key is the first defender from head-up to inside, near the line, a deep safety never counted; he
 * decides by 3 to 4 yards and breaks at 5 to 6 after a slight hesitation; he breaks in if he can win
 * inside, staying skinny where the middle linebacker can get under it; walled off, he pivots back out;
 * with a man on either side the out is gone: in if the inside man leaves, else he sits; when in doubt,
 * out; squeezed, the passer goes to the complementary route behind him.
 *
 * `plays/lantern.json` says that as a card of our own. What each look and reaction must come to is
 * worked out here from where men stand and go, not from the card's rows.
 */
import type { AlignedLook, Defender, Reaction } from '@stemline/football/look';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { branchPoints } from '@stemline/read-rules/branch-path';
import { check } from '@stemline/read-rules/check';
import { evaluate } from '@stemline/read-rules/evaluate';
import { describe, expect, it } from 'vitest';
import { readPlay } from './read-rules-plays.ts';

const play = readPlay('lantern');
const [choice, passer] = play.cards;
if (!choice || !passer) throw new Error('the play has lost a card');
const receiver = play.players.find(({ id }) => id === choice.player);
if (!receiver) throw new Error('the play has lost its receiver');

const looks = builtInLooks.map((recipe) => alignLook(recipe, play));
/** He stands right of the ball: inside is to the left. */
const inside = (defender: Defender): number => receiver.at[0] - defender.at[0];

/** The nearest man from head-up to inside within six yards, no deeper than eight, by eye. */
function keyByEye(look: AlignedLook): Defender | undefined {
  return look.defenders
    .filter(
      (one) => one.level !== 'deep' && one.at[1] <= 8 && inside(one) >= -0.5 && inside(one) <= 6,
    )
    .sort((a, b) => inside(a) - inside(b))[0];
}
const outsideMan = (look: AlignedLook, key: Defender): boolean =>
  look.defenders.some(
    (one) => one !== key && one.at[1] <= 8 && inside(one) < 0 && inside(one) >= -5,
  );

const cases = looks.flatMap((look) => {
  const key = keyByEye(look);
  return key ? key.reactions.map((reaction) => ({ look, key, reaction })) : [];
});
const answer = (look: AlignedLook, key: Defender, reaction: Reaction) =>
  evaluate(play, choice, look, { [key.id]: reaction.id });

describe('the slot’s choice', () => {
  it('R1 reads the first man inside on every look, never a deep safety', () => {
    for (const look of looks) {
      const { key } = evaluate(play, choice, look, {});
      const byEye = keyByEye(look);
      if (byEye) expect(key).toMatchObject({ kind: 'one', defender: { id: byEye.id } });
      else expect(key.kind).toBe('none');
    }
    expect(cases.length).toBeGreaterThan(60);
  });

  it('with a man on either side: in if the inside man blitzes, else sit', () => {
    const bracketed = cases.filter(({ look, key }) => outsideMan(look, key));
    expect(bracketed.length).toBeGreaterThan(0);
    for (const { look, key, reaction } of bracketed) {
      expect(answer(look, key, reaction).branch?.name).toBe(
        reaction.move === 'rush' ? 'IN' : 'SIT',
      );
    }
  });

  it('walled off: pivot back out', () => {
    const walled = cases.filter(
      ({ look, key, reaction }) => reaction.move === 'wall' && !outsideMan(look, key),
    );
    expect(walled.length).toBeGreaterThan(10);
    for (const { look, key, reaction } of walled)
      expect(answer(look, key, reaction).branch?.name).toBe('PIVOT');
  });

  it('his man leaves: in, skinny where the middle linebacker can get under it', () => {
    const left = cases.filter(
      ({ look, key, reaction }) => reaction.move === 'rush' && !outsideMan(look, key),
    );
    expect(left.length).toBeGreaterThan(10);
    for (const { look, key, reaction } of left) {
      const mike = look.defenders
        .filter(({ level, at }) => level === 'second' && Math.abs(at[0]) <= 3.5)
        .sort((a, b) => Math.abs(a.at[0]) - Math.abs(b.at[0]))[0];
      const under = mike !== undefined && mike.at[0] >= -0.75;
      expect(answer(look, key, reaction).branch?.name).toBe(under ? 'SKINNY IN' : 'IN');
    }
  });

  it('in man coverage with the defender inside of him, or a key who sits on him: out, when in doubt', () => {
    const stays = cases.filter(
      ({ look, key, reaction }) =>
        (reaction.move === 'man' || reaction.id === 'sit') &&
        inside(key) < 3 &&
        !outsideMan(look, key),
    );
    expect(stays.length).toBeGreaterThan(10);
    for (const { look, key, reaction } of stays) {
      expect(answer(look, key, reaction)).toMatchObject({
        row: 'whenInDoubt',
        branch: { name: 'OUT' },
      });
    }
  });

  it('breaks at 5 to 6 yards, in toward the ball and out away from it', () => {
    for (const branch of choice.branches) {
      const points = branchPoints(play, choice, branch);
      const [breaksAt, end] = branch.name === 'SIT' ? points.slice(-1) : points.slice(1);
      expect(breaksAt?.[1]).toBeGreaterThanOrEqual(5);
      expect(breaksAt?.[1]).toBeLessThanOrEqual(6);
      if (branch.name.endsWith('IN')) expect(Math.abs(end?.[0] ?? 99)).toBeLessThan(receiver.at[0]);
      if (branch.name === 'OUT') expect(end?.[0]).toBeGreaterThan(receiver.at[0]);
    }
  });

  it('squeezed from both sides, the passer goes to the route behind him; else to him', () => {
    const look = looks.find((one) => {
      const key = keyByEye(one);
      return (
        key &&
        inside(key) >= 0.5 &&
        inside(key) <= 1.5 &&
        key.reactions.some(({ id }) => id === 'sit')
      );
    });
    const key = look && keyByEye(look);
    if (!look || !key) throw new Error('no look with a tight key');
    const tight = {
      ...key,
      at: [receiver.at[0] - 1, 4] as const,
      reactions: key.reactions.map((one) => ({ ...one, to: [receiver.at[0] - 1, 4] as const })),
    };
    const corner = look.defenders.find(
      (one) => one.level === 'corner' && one.at[0] > receiver.at[0],
    );
    if (!corner) throw new Error('no corner');
    const close = {
      ...corner,
      at: [receiver.at[0] + 1, 5] as const,
      reactions: corner.reactions
        .slice(0, 1)
        .map((one) => ({ ...one, move: 'sit' as const, to: [receiver.at[0] + 1, 5] as const })),
    };
    const with_ = (...men: readonly Defender[]): AlignedLook => ({
      ...look,
      defenders: look.defenders.map((one) => men.find(({ id }) => id === one.id) ?? one),
    });
    const sit = { [key.id]: 'sit' } as Parameters<typeof evaluate>[3];
    expect(evaluate(play, passer, with_(tight, close), sit).branch?.name).toBe('Z behind him');
    expect(evaluate(play, passer, with_(tight), sit).branch?.name).toBe('H');
  });

  it('F3 the card as it is taught has nothing said against it', () => {
    expect(check(play, builtInLooks)).toEqual([]);
  });
});
