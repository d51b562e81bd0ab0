import { usualDrops } from '@stemline/football/footwork/drop';
import { type PlayerId, playerIdSchema } from '@stemline/football/ids';
import type { Route } from '@stemline/football/play';
import { protections } from '@stemline/football/protection';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { exposedIn } from '@stemline/read-rules/protection/exposure';
import type { Protecting } from '@stemline/read-rules/protection/protect';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { describe, expect, it } from 'vitest';
import { formationPlay, plainSituation } from '../book/formation-play.ts';
import { standingOf } from '../looks/standing.ts';
import { isTrouble, outcomeOf, outcomeSays } from './before-look.ts';
import { blocksOf, protectionOn, whyNoProtection } from './protecting.ts';
import {
  calledWords,
  callWords,
  dropNumbers,
  feetWords,
  missingWords,
} from './protection-words.ts';

const id = (label: string): PlayerId => playerIdSchema.parse(label);
const deep: Route = {
  release: { side: 'free', hesitate: 0 },
  stem: [[0, 14]],
  finish: [[3, 18]],
  shape: 'sharp',
  name: 'Post',
};
const bare: RuledPlay = {
  ...formationPlay('doubles', plainSituation('highSchool', 'middle'), 'right'),
  cards: [],
};
const deepOnly: RuledPlay = { ...bare, routes: { [id('x')]: deep, [id('z')]: deep } };
const protecting = (play: RuledPlay): Protecting => {
  const found = protectionOn(play);
  if (!found) throw new Error(whyNoProtection(play));
  return found;
};

describe('a protection before every look of the shelf', () => {
  it('comes to what the rule check finds, and says so in words that name who is free', () => {
    const seen = new Set<string>();
    for (const call of protections) {
      const play = { ...deepOnly, protection: { id: call.id, toward: 'left' as const } };
      for (const recipe of builtInLooks) {
        const before = protecting(play).before(alignLook(recipe, play), {});
        const outcome = outcomeOf(protecting(play), before);
        seen.add(outcome);
        expect(isTrouble(outcome)).toBe(exposedIn(before).length > 0);
        expect(outcome === 'blocked').toBe(before.pickUp.free.length === 0);
        const says = outcomeSays(protecting(play), before);
        expect(says).toMatch(/\.$/);
        if (before.first) expect(says).toContain(before.first.rusher.label);
      }
    }
    expect(seen).toContain('blocked');
    expect(seen).toContain('late');
  });

  it('is drawn as it is told: each block, each free man, where the passer throws from', () => {
    const play = { ...deepOnly, protection: { id: 'five-half', toward: 'left' as const } };
    const pressure = builtInLooks.find(({ id: look }) => look === 'over-zero');
    if (!pressure) throw new Error('the look is gone');
    const standing = standingOf(
      play,
      { kind: 'shelf', look: pressure.id, reactions: {} },
      builtInLooks,
    );
    const drawn = blocksOf(play, standing);
    const { pickUp, first } = protecting(play).before(alignLook(pressure, play), {});
    expect(drawn?.blocks).toHaveLength(pickUp.blocks.length);
    expect(drawn?.free.map(({ defender }) => defender)).toEqual(pickUp.free.map((man) => man.id));
    expect(drawn?.free.some(({ label }) => label === `free ${first?.arrives.toFixed(1)} s`)).toBe(
      true,
    );
    expect(blocksOf(play, null)).toMatchObject({ blocks: [], free: [] });
    expect(blocksOf(bare, standing)).toBeNull();
  });
});

describe('what keeps it from being told', () => {
  it('is said with what to do', () => {
    expect(whyNoProtection(bare)).toContain('Draw routes for two men');
    const without = (...labels: string[]): RuledPlay => ({
      ...deepOnly,
      players: deepOnly.players.filter((man) => !labels.includes(man.id)),
    });
    expect(protectionOn(without('lg'))).toBeNull();
    expect(whyNoProtection(without('lg'))).toContain('4 linemen');
    expect(whyNoProtection(without('q', 'f'))).toContain('take the snap');
  });
});

describe('the words of a call', () => {
  it.each(protections)('say of $name which way it slides and who helps', (protection) => {
    const words = callWords(protection, 'left');
    expect(words.includes('left')).toBe(protection.slide !== 'none');
    expect(words.split('; ')).toHaveLength(1 + protection.helpers.length);
  });

  it.each(usualDrops)('say of $id from where he throws and when', (drop) => {
    expect(dropNumbers(drop)).toContain(`${drop.ballOut.from.toFixed(1)} to`);
    expect(dropNumbers(drop).includes('to the side')).toBe(drop.width.to > 0);
  });

  it('are a line where something is called, and none where nothing is', () => {
    expect(calledWords(bare)).toEqual([]);
    const called = { ...bare, protection: { id: 'six-half', toward: 'left' as const } };
    expect(calledWords({ ...called, drop: 'five-step' })).toEqual([
      'Protection: Six men, half slide, back away from it, to the left',
      'Drop: 5-step from under the center',
    ]);
  });

  it('name a drop that does not start where the passer stands', () => {
    const drop = (name: string) => usualDrops.find((one) => one.id === name) ?? usualDrops[0];
    const [five, gun] = [drop('five-step'), drop('gun-three-step')];
    if (!five || !gun) throw new Error('the drops are gone');
    expect(feetWords(bare, five)).toContain('in the shotgun');
    expect(feetWords(bare, gun)).toBeNull();
  });

  it('name the men whom a formation does not have', () => {
    const empty: RuledPlay = {
      ...formationPlay('empty', plainSituation('highSchool', 'middle'), 'right'),
      cards: [],
    };
    const play = {
      ...empty,
      routes: { [id('x')]: deep, [id('z')]: deep },
      protection: { id: 'seven-backs', toward: 'left' as const },
    };
    const called = protections.find((one) => one.id === 'seven-backs');
    if (!called) throw new Error('the protection is gone');
    const says = missingWords(play, called, protecting(play).blocking);
    expect(says).toContain('the first back and the second back');
    expect(says).toContain('5 block');
  });
});
