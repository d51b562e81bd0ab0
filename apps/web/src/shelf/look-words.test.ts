import { builtInLooks } from '@stemline/football/shelf';
import { expect, it } from 'vitest';
import { rushersOf, traitWords } from './look-words.ts';

it('says what a look is at a glance', () => {
  expect(traitWords({ front: 'odd', shell: 'twoHigh', middle: 'open', coverage: 'match' })).toBe(
    'Odd front, two high, middle open, match',
  );
});

it('counts those who rush by the call', () => {
  const counts = Object.fromEntries(builtInLooks.map((look) => [look.id, rushersOf(look)]));
  // A fire zone sends five by its name; dropping eight leaves three (common practice, no single source).
  expect(counts).toMatchObject({
    'over-quarters': 4,
    'over-fire-strong': 5,
    'stack-drop-eight': 3,
  });
});
