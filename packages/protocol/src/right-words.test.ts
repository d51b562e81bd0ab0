import { expect, it } from 'vitest';
import { lacksRight } from './right-words.ts';

it('tells somebody who is refused what he may not do, in a sentence', () => {
  expect(lacksRight('player', 'look.read')).toBe('As a player you may not open the look shelf.');
  expect(lacksRight('assistant', 'change.decide')).toBe(
    'As an assistant you may not sign a play off or send it back.',
  );
});
