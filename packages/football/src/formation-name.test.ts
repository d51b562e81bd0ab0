import { describe, expect, it } from 'vitest';
import { formations } from './formation.ts';
import { formationName } from './formation-name.ts';
import { formationPlay, midfield, withMotion } from './plays.test-kit.ts';

describe('what a formation is called', () => {
  it.each(formations)('$name, to either side and on every hash', ({ id, name }) => {
    for (const strength of ['left', 'right'] as const)
      for (const spot of ['left', 'middle', 'right'] as const)
        expect(
          formationName(formationPlay(id, { strength, situation: { ...midfield, spot } })),
        ).toBe(name);
  });

  it('is the count of receivers where it is none of them', () => {
    const play = formationPlay('doubles');
    const players = play.players.map((man) =>
      man.label === 'H' ? { ...man, at: [man.at[0] + 3, man.at[1]] as const } : man,
    );
    expect(formationName({ ...play, players })).toBe('2x2');
  });

  it('says what motion makes of it', () => {
    const play = formationPlay('doubles');
    const a = play.players.find(({ label }) => label === 'A');
    if (!a) throw new Error('doubles has an A');
    const across = withMotion(play, a.id, { path: [[-2 * a.at[0], -1]], atSnap: 'moving' });
    expect(formationName(across)).toBe('Doubles, 2x2, to 3x1');
  });
});
