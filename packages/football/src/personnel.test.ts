import { describe, expect, it } from 'vitest';
import { personnel } from './personnel.ts';
import { formationPlay } from './plays.test-kit.ts';

describe('personnel', () => {
  it('counts backs, then tight ends', () => {
    expect(personnel(formationPlay('two-backs').players)).toBe('21');
    expect(personnel(formationPlay('two-tight-ends').players)).toBe('12');
    expect(personnel([])).toBe('00');
  });

  it('marks a sixth lineman', () => {
    const { players } = formationPlay('trips');
    const heavy = players.map((player) =>
      player.label === 'A' ? { ...player, position: 'T' as const } : player,
    );
    expect(personnel(heavy)).toBe('10*');
  });
});
