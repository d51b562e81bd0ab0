import { expect, it } from 'vitest';
import { SeenIds } from './seen-ids.ts';

it('R33 the first who was seen under an id keeps it; a member’s oldest are forgotten, nobody else’s', () => {
  const seen = new SeenIds();
  seen.saw(1, 'ada');
  seen.saw(1, 'eve');
  expect([seen.ownerOf(1), seen.ownerOf(2)]).toEqual(['ada', null]);
  for (let id = 10; id < 2_010; id++) seen.saw(id, 'eve');
  expect([seen.ownerOf(1), seen.ownerOf(10), seen.ownerOf(2_009)]).toEqual(['ada', null, 'eve']);
  expect(
    Array.from({ length: 2_000 }, (_, i) => seen.ownerOf(i + 10)).filter(Boolean),
  ).toHaveLength(500);
});
