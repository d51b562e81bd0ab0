import { roleSchema } from '@stemline/protocol/roles';
import { expect, it } from 'vitest';
import { placesFor } from './places.ts';

it('shows each role the places that it has a right to', () => {
  const shown = Object.fromEntries(
    roleSchema.options.map((role) => [role, placesFor(role).map(({ id }) => id)]),
  );
  expect(shown).toEqual({
    headCoach: ['book', 'looks', 'waiting', 'staff'],
    coordinator: ['book', 'looks', 'staff'],
    positionCoach: ['book', 'looks', 'staff'],
    assistant: ['book', 'looks', 'staff'],
    player: ['book'],
  });
});
