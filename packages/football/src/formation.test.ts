import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halfWidth } from './field.ts';
import { formations, playersOf, structureOf } from './formation.ts';
import { distance } from './geometry.ts';
import { legality } from './legality.ts';
import { personnel } from './personnel.ts';
import { playSchema } from './play.ts';
import { anySituation, formationPlay, midfield, mirrorPlay } from './plays.test-kit.ts';

const ids = formations.map((formation) => formation.id);
const side = fc.constantFrom('left' as const, 'right' as const);

describe('formations', () => {
  it('have the structures and the groupings that coaches ask for', () => {
    expect(new Set(ids).size).toBe(ids.length);
    const structures = new Set(formations.map(({ structure }) => structure));
    for (const wanted of ['2x2', '3x1', '3x2', '4x1', '2x1']) expect(structures).toContain(wanted);
  });

  it.each(formations)(
    '$name: eleven, legal, as named, on the field, from any spot and either way',
    (formation) => {
      fc.assert(
        fc.property(anySituation, side, (situation, strength) => {
          const play = formationPlay(formation.id, { strength, situation });
          expect(play.players).toHaveLength(11);
          expect(playSchema.safeParse(play).success).toBe(true);
          expect(legality(play)).toEqual([]);
          expect(structureOf(play).name).toBe(formation.structure);
          expect(personnel(play.players)).toBe(formation.personnel);
          for (const { at } of play.players) expect(Math.abs(at[0])).toBeLessThan(halfWidth - 2);
        }),
      );
    },
  );

  it('keep more receivers on the side called strong', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ids), anySituation, side, (formation, situation, strength) => {
        const { left, right } = structureOf(formationPlay(formation, { strength, situation }));
        const [strong, weak] = strength === 'left' ? [left, right] : [right, left];
        expect(strong).toBeGreaterThanOrEqual(weak);
      }),
    );
  });

  it('stand mirrored when the strength and the hash are turned', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ids), anySituation, (formation, situation) => {
        const right = formationPlay(formation, { strength: 'right', situation });
        const mirrored = mirrorPlay(right);
        const left = formationPlay(formation, { strength: 'left', situation: mirrored.situation });
        for (const player of left.players) {
          const twin = mirrored.players.find(
            (other) => other.position === player.position && distance(other.at, player.at) < 0.011,
          );
          expect(twin, `${player.label} of ${formation}`).toBeDefined();
        }
      }),
    );
  });

  it('that nobody knows are empty', () => {
    expect(playersOf('no-such', { strength: 'left', situation: midfield })).toEqual([]);
  });
});
