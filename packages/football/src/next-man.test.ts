import { describe, expect, it } from 'vitest';
import { formations, playersOf } from './formation.ts';
import { distance } from './geometry.ts';
import { legality } from './legality.ts';
import { nextMan } from './next-man.ts';
import { isLineman, type Play, type Player } from './play.ts';

const situation = {
  code: 'highSchool',
  spot: 'left',
  toGoal: 60,
  down: 1,
  toGain: 10,
} as const satisfies Play['situation'];

const without = (players: readonly Player[], label: string): Player[] =>
  players.filter((player) => player.label !== label);

const everyMan = formations.flatMap(({ id }) =>
  playersOf(id, { strength: 'right', situation }).map(({ label }) => ({ id, label })),
);

describe('who is put on a play that is short of eleven', () => {
  it.each(everyMan)('$id without $label', ({ id, label }) => {
    const eleven = playersOf(id, { strength: 'right', situation });
    const rest = without(eleven, label);
    const gone = eleven.find((player) => player.label === label);
    const man = nextMan({ players: rest, situation });
    if (!man || !gone) expect.unreachable('there is somebody for every place');
    if (isLineman(gone.position) || gone.position === 'QB') {
      // A tackle who is moved over in an unbalanced line comes back to his usual side.
      expect(man.label).toBe(gone.label);
    } else {
      expect(['WR', 'TE', 'RB']).toContain(man.position);
    }
    for (const one of rest) {
      expect(one.label).not.toBe(man.label);
      expect(one.number).not.toBe(man.number);
      expect(distance(one.at, man.at)).toBeGreaterThan(1);
    }
    const play: Play = {
      name: '',
      concept: '',
      situation,
      players: [...rest, man],
      routes: {},
      motions: {},
    };
    expect(legality(play).map(({ rule }) => rule)).not.toContain('outOfBounds');
  });

  it('fills an empty field with eleven, the five inside and the quarterback among them', () => {
    let players: Player[] = [];
    for (;;) {
      const man = nextMan({ players, situation });
      if (!man) break;
      players = [...players, man];
    }
    expect(players).toHaveLength(11);
    expect(players.slice(0, 6).map(({ label }) => label)).toEqual([
      'LT',
      'LG',
      'C',
      'RG',
      'RT',
      'Q',
    ]);
  });

  it('gives no letter that somebody bears, however he is written', () => {
    const players = playersOf('doubles', { strength: 'right', situation })
      .filter(({ label }) => label !== 'H')
      .map((player) => (player.label === 'X' ? { ...player, label: 'y' } : player));
    expect(nextMan({ players, situation })?.label).toBe('H');
    const ten = players.map((player) =>
      player.label === 'A' ? { ...player, label: 'h' } : player,
    );
    const man = nextMan({ players: ten, situation });
    expect(['X', 'A']).not.toContain(man?.id.toUpperCase());
    expect(['Y', 'H']).not.toContain(man?.label);
  });
});
