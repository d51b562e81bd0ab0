import { usualDrops } from '@stemline/football/footwork/drop';
import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import type { Route } from '@stemline/football/play';
import { protections } from '@stemline/football/protection';
import { type RuleCode, ruleCodeSchema } from '@stemline/football/rulecode';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { onPlay } from '@stemline/read-rules/findings/on-play';
import { arrival } from '@stemline/read-rules/protection/arrival';
import { protection } from '@stemline/read-rules/protection/findings';
import { protectingOf } from '@stemline/read-rules/protection/protect';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { describe, expect, it } from 'vitest';

/** Everything in this file is common practice in coaching, no single source; staffs differ. */
const run = (stem: Route['stem'], finish: Route['finish']): Route => ({
  release: { side: 'free', hesitate: 0 },
  stem,
  finish,
  shape: 'sharp',
  name: '',
});
const dig = (out: number): Route => run([[0, 15]], [[out * -9, 15]]);
const slant = (out: number): Route => run([[0, 3]], [[out * -7, 9]]);

const play = (
  formation: string,
  code: RuleCode,
  runs: Readonly<Record<string, Route>>,
): RuledPlay => {
  const situation = { code, spot: 'middle', toGoal: 60, down: 1, toGain: 10 } as const;
  const routes = Object.entries(runs).map(([who, route]) => [playerIdSchema.parse(who), route]);
  return {
    name: formation,
    concept: '',
    situation,
    players: playersOf(formation, { strength: 'right', situation }),
    routes: Object.fromEntries(routes),
    motions: {},
    cards: [],
  };
};
const rushersAndFree = (drawn: RuledPlay, id: string): readonly [number, number] => {
  const recipe = builtInLooks.find((look) => look.id === id);
  const picked = recipe && protectingOf(drawn)?.before(alignLook(recipe, drawn), {}).pickUp;
  return [picked?.rushers ?? -1, picked?.free.length ?? -1];
};

describe('five, six and seven men against four, five and six rushers (common practice)', () => {
  const five = play('empty', 'college', {
    x: dig(-1),
    f: dig(-1),
    a: dig(1),
    h: dig(1),
    z: dig(1),
  });
  const six = play('doubles', 'college', { x: dig(-1), a: dig(-1), h: dig(1), z: dig(1) });
  const seven = play('two-backs', 'college', { x: dig(-1), y: dig(1), z: dig(1) });

  it.each([
    ['over-two', 4],
    ['odd-two', 4],
    ['stack-drop-eight', 3],
    ['under-fire-weak', 5],
    ['odd-fire-middle', 5],
    ['bear-free', 5],
  ] as const)('%s: %i come, and five have them', (look, rushers) => {
    expect(rushersAndFree(five, look)).toEqual([rushers, 0]);
  });

  it.each(['over-zero', 'bear-zero', 'goal-line'])(
    '%s: six come; five leave one, six and seven none',
    (look) => {
      expect(rushersAndFree(five, look)).toEqual([6, 1]);
      expect(rushersAndFree(six, look)).toEqual([6, 0]);
      expect(rushersAndFree(seven, look)).toEqual([6, 0]);
    },
  );

  it('empty against six is hot: a slant answers it, digs do not', () => {
    const told = (drawn: RuledPlay) =>
      protection(
        onPlay(
          drawn,
          builtInLooks.map((look) => alignLook(look, drawn)),
        ),
      );
    expect(told(five).map(({ kind }) => kind)).toEqual(['noHot']);
    const hot = play('empty', 'college', {
      x: slant(-1),
      f: dig(-1),
      a: dig(1),
      h: dig(1),
      z: dig(1),
    });
    expect(told(hot)).toEqual([]);
  });

  it('the protections that are told have five, six and seven men', () => {
    expect([...new Set(protections.map(({ helpers }) => 5 + helpers.length))].sort()).toEqual([
      5, 6, 7,
    ]);
  });
});

describe('an end whom nobody blocks, against the table of drops (common practice)', () => {
  const end = { level: 'line', at: [3.3, 0.8] } as const;
  const recipe = builtInLooks.find(({ id }) => id === 'over-two');
  const defender =
    recipe &&
    alignLook(recipe, play('doubles', 'college', {})).defenders.find(
      ({ level, at }) => level === end.level && at[0] === end.at[0],
    );
  const drop = (id: string) => usualDrops.find((one) => one.id === id);
  const there = (code: RuleCode, id: string): number => {
    const depth = drop(id)?.depth;
    if (!defender || !depth) throw new Error('the end or the drop is gone');
    return arrival(code, defender, [0, -(depth.from + depth.to) / 2]);
  };

  it.each(ruleCodeSchema.options)('%s: is late for quick game, in time for a hitch', (code) => {
    const ballOut = (id: string) => drop(id)?.ballOut ?? { from: Number.NaN, to: Number.NaN };
    expect(there(code, 'gun-catch-and-throw')).toBeGreaterThan(ballOut('gun-catch-and-throw').to);
    expect(there(code, 'one-step')).toBeGreaterThan(ballOut('one-step').to);
    expect(there(code, 'gun-three-step-hitch')).toBeLessThan(ballOut('gun-three-step-hitch').from);
    expect(there(code, 'seven-step')).toBeLessThan(ballOut('seven-step').from);
  });
});
