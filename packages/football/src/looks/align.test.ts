import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { backs, receivers, strengthWithReason } from '../count.ts';
import { halfWidth } from '../field.ts';
import { distance } from '../geometry.ts';
import { type AlignedLook, alignedLookSchema } from '../look.ts';
import type { Play } from '../play.ts';
import {
  anyDrawing,
  anyFormation,
  formationPlay,
  mirrorPlay,
  withMotion,
} from '../plays.test-kit.ts';
import { builtInLooks } from '../shelf.ts';
import { atSnap } from '../snap.ts';
import { alignLook, alignShelf } from './align.ts';

const anyLook = fc.constantFrom(...builtInLooks);
const anyPlay = fc.oneof(anyFormation, anyDrawing);
const runs = { numRuns: 150 };
/** The same play, with nothing of it held in common. */
const copyOf = (play: Play): Play => JSON.parse(JSON.stringify(play)) as Play;

const manAssignments = (look: AlignedLook): string[] =>
  look.defenders.flatMap(({ reactions }) =>
    reactions[0]?.move === 'man' ? [reactions[0].says] : [],
  );

/** Everybody who may go out: receivers to both sides and the backs. */
const toCover = (play: Play): number => {
  const { left, right } = receivers(play);
  return left.length + right.length + backs(play).length;
};

const mirrored = (look: AlignedLook): AlignedLook => ({
  ...look,
  defenders: look.defenders.map((defender) => ({
    ...defender,
    at: [-defender.at[0] + 0, defender.at[1]],
    reactions: defender.reactions.map((reaction) => ({
      ...reaction,
      to: [-reaction.to[0] + 0, reaction.to[1]],
    })),
  })),
});

describe('aligning a look to any drawn play', () => {
  it('gives eleven defenders of the schema, on the field and on their side of the ball', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        const look = alignedLookSchema.parse(alignLook(recipe, play));
        expect(look.defenders).toHaveLength(11);
        for (const { at, label } of look.defenders) {
          expect(at[1], label).toBeGreaterThanOrEqual(0.5);
          expect(at[1], label).toBeLessThanOrEqual(play.situation.toGoal + 10);
          expect(Math.abs(at[0]), label).toBeLessThanOrEqual(halfWidth);
        }
      }),
      runs,
    );
  });

  it('puts no two in one place', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        const { defenders } = alignLook(recipe, play);
        for (const [i, a] of defenders.entries())
          for (const b of defenders.slice(i + 1))
            expect(distance(a.at, b.at), `${a.label} and ${b.label}`).toBeGreaterThanOrEqual(0.7);
      }),
      runs,
    );
  });

  it('mirrors the look when the play is mirrored', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        fc.pre(strengthWithReason(play).because !== 'custom');
        expect(alignLook(recipe, mirrorPlay(play))).toEqual(mirrored(alignLook(recipe, play)));
      }),
      runs,
    );
  });

  it('is the same each time', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        const copy = copyOf({ ...play, routes: {} });
        expect(alignLook(recipe, play)).toEqual(alignLook(recipe, copy));
      }),
      { numRuns: 50 },
    );
  });

  it('is aligned anew when anything it stands on has changed, and only then', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, anyPlay, (recipe, play, other) => {
        const first = alignLook(recipe, play);
        expect(alignLook(recipe, { ...play, routes: {}, name: 'Renamed' })).toBe(first);
        const changed = [
          { ...play, players: other.players },
          { ...play, motions: other.motions },
          { ...play, situation: other.situation },
        ];
        for (const one of changed)
          expect(alignLook(recipe, one)).toEqual(alignLook(recipe, copyOf(one)));
        expect(alignLook(recipe, play)).toEqual(first);
      }),
      { numRuns: 50 },
    );
  });

  it('covers each man once in a man look, as long as there are defenders for them', () => {
    const manLooks = fc.constantFrom(
      ...builtInLooks.filter(({ traits }) => traits.coverage === 'man'),
    );
    fc.assert(
      fc.property(manLooks, anyPlay, (recipe, play) => {
        const assigned = manAssignments(alignLook(recipe, play));
        expect(new Set(assigned).size).toBe(assigned.length);
        expect(assigned.length).toBe(Math.min(toCover(play), 5));
      }),
      runs,
    );
  });

  it('gives the man nearest each inside receiver three answers at least', () => {
    const readable = new Set(['rush', 'wall', 'widen', 'drop']);
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        const { defenders } = alignLook(recipe, play);
        const { left, right } = receivers(play);
        for (const slot of [...left.slice(1), ...right.slice(1)]) {
          const nearest = defenders.reduce((best, one) =>
            distance(one.at, slot.at) < distance(best.at, slot.at) - 0.01 ? one : best,
          );
          const moves = new Set(
            nearest.reactions.map(({ move }) => move).filter((m) => readable.has(m)),
          );
          expect(moves.size, `${nearest.label} over ${slot.label}`).toBeGreaterThanOrEqual(3);
        }
      }),
      runs,
    );
  });

  it('names no reaction of a defender twice', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        for (const { reactions } of alignLook(recipe, play).defenders)
          expect(new Set(reactions.map(({ id }) => id)).size).toBe(reactions.length);
      }),
      runs,
    );
  });

  it('stands after motion as if everybody had lined up there', () => {
    fc.assert(
      fc.property(anyLook, anyPlay, (recipe, play) => {
        const there = { ...play, players: atSnap(play), motions: {} };
        expect(alignLook(recipe, play)).toEqual(alignLook(recipe, there));
      }),
      runs,
    );
  });

  it('sets itself to the formation at the snap: a man in motion takes his defender along', () => {
    const manFree = builtInLooks.find(({ id }) => id === 'over-free');
    const play = formationPlay('doubles');
    const motion = withMotion(play, 'a', { path: [[17, 0]], atSnap: 'moving' });
    if (!manFree) throw new Error('the shelf has lost its man look');
    const overA = (drawn: Play): readonly [number, number] => {
      const look = alignLook(manFree, drawn);
      const defender = look.defenders.find(({ reactions }) =>
        reactions[0]?.says.includes('takes A '),
      );
      return defender?.at ?? [99, 99];
    };
    expect(overA(play)[0]).toBeLessThan(-5);
    expect(overA(motion)[0]).toBeGreaterThan(4);
  });
});

/** What a coach expects of where men stand; common practice, no single source. */
describe('standing as a coach would have them', () => {
  const formations = [
    'doubles',
    'doubles-tight-end',
    'trips',
    'bunch',
    'tight',
    'empty',
    'two-backs',
  ];
  const cases = builtInLooks.flatMap((recipe) =>
    formations.map((formation) => ({
      recipe,
      formation,
      name: `${recipe.name} against ${formation}`,
    })),
  );

  it.each(cases)('$name', ({ recipe, formation }) => {
    const play = formationPlay(formation);
    const { defenders } = alignLook(recipe, play);
    const depthOf = (level: string) =>
      defenders.filter((one) => one.level === level).map(({ at }) => at[1]);
    for (const depth of depthOf('line')) expect(depth).toBeLessThanOrEqual(1);
    for (const depth of depthOf('corner')) {
      expect(depth).toBeGreaterThanOrEqual(0.9);
      expect(depth).toBeLessThanOrEqual(8);
    }
    for (const depth of depthOf('deep')) {
      expect(depth).toBeGreaterThanOrEqual(8);
      expect(depth).toBeLessThanOrEqual(15);
    }
    for (const depth of depthOf('second')) expect(depth).toBeLessThanOrEqual(8);

    // Somebody is in the neighbourhood of every receiver, in front of him or over the top.
    const { left, right } = receivers(play);
    for (const receiver of [...left, ...right])
      expect(
        Math.min(...defenders.map(({ at }) => Math.abs(at[0] - receiver.at[0]))),
        receiver.label,
      ).toBeLessThan(5.5);

    // The front is over the blockers, and both sides of the ball have their man on or off the edge.
    const box = defenders.filter(({ at }) => Math.abs(at[0]) <= 6 && at[1] <= 7);
    expect(box.length).toBeGreaterThanOrEqual(4);
    expect(defenders.some(({ at }) => at[0] > 2.5 && at[1] < 6)).toBe(true);
    expect(defenders.some(({ at }) => at[0] < -2.5 && at[1] < 6)).toBe(true);
  });

  it('a front goes out to a tackle moved over, and Sam stays with the slot', () => {
    const play = formationPlay('unbalanced');
    const at = (look: string, label: string): number => {
      const recipe = builtInLooks.find(({ id }) => id === look);
      const men = recipe ? alignLook(recipe, play).defenders : [];
      return Math.max(...men.filter((one) => one.label === label).map((one) => one.at[0]));
    };
    expect(at('over-quarters', 'E')).toBeGreaterThan(4.2);
    expect(at('odd-two', 'S')).toBeGreaterThan(9);
  });
});

describe('aligning a shelf again', () => {
  it('gives the looks that each recipe gives alone, and the men who stand and may do the same as they are', () => {
    fc.assert(
      fc.property(anyPlay, anyPlay, fc.integer({ min: -8, max: 8 }), (play, other, by) => {
        const [first, ...rest] = play.players;
        const moved: Play = first
          ? { ...play, players: [{ ...first, at: [first.at[0] + by / 4, first.at[1]] }, ...rest] }
          : other;
        const before = alignShelf(builtInLooks, play, []);
        for (const now of [copyOf(play), moved, other]) {
          const looks = alignShelf(builtInLooks, now, before);
          const alone = copyOf(now);
          expect(looks).toEqual(builtInLooks.map((recipe) => alignLook(recipe, alone)));
          const men = looks.flatMap(({ defenders }) => defenders);
          // Whoever says the same is one object.
          expect(new Set(men).size).toBe(new Set(men.map((man) => JSON.stringify(man))).size);
        }
        const again = alignShelf(builtInLooks, copyOf(play), before);
        for (const [i, look] of again.entries()) expect(look).toBe(before[i]);
      }),
      { numRuns: 25 },
    );
  });

  it('does so for another part of the field, but not for another down', () => {
    const play = formationPlay('doubles');
    const before = alignLook(builtInLooks[0] ?? expect.unreachable(), play);
    const down: Play = { ...play, situation: { ...play.situation, down: 4, toGain: 9 } };
    expect(alignLook(builtInLooks[0] ?? expect.unreachable(), down)).toBe(before);
    const goal: Play = { ...play, situation: { ...play.situation, toGoal: 5 } };
    expect(alignLook(builtInLooks[0] ?? expect.unreachable(), goal)).not.toEqual(before);
  });
});
