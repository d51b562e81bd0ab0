import { describe, expect, it } from 'vitest';
import type { FactName } from '../fact-name.ts';
import { prove } from '../prove.ts';
import { readerCard } from '../same-page/reader-card.ts';
import { card, doubles, range, row } from '../testing/cards.ts';
import { proved } from './proved.ts';

const facts: readonly FactName[] = [
  'keyOffset',
  'keyDepth',
  'cushion',
  'roomInside',
  'roomOutside',
];

describe('a card beyond proof', () => {
  it('U7 is told as too tangled, and no gap or clash is made up', () => {
    const rows = Array.from({ length: 60 }, (_, i) =>
      row(
        `r${i}`,
        'in',
        ...facts.map((fact, b) => range(fact, `[${(i * (b + 3)) % 6},${((i * (b + 3)) % 6) + 1}]`)),
      ),
    );
    const tangled = card(rows);
    const play = doubles([tangled]);
    const reader = readerCard(play, tangled);
    expect(reader).not.toBeNull();
    const proof = prove(play, tangled, 500);
    const found = proved({ play, card: tangled, reader, proof, who: 'H', looks: [] });
    expect(found.filter(({ kind }) => kind === 'unfinished')).toMatchObject([{ severity: 'warn' }]);
    expect(found.every(({ severity }) => severity !== 'stop')).toBe(true);
  });
});
