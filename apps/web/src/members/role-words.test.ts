import { expect, it } from 'vitest';
import { rolesToInvite, roleWords } from './role-words.ts';

it('names a group only where it limits the role', () => {
  expect(roleWords('positionCoach', 'receivers')).toBe('Position coach, receivers');
  expect(roleWords('positionCoach', 'all')).toBe('Position coach');
  expect(roleWords('headCoach', 'all')).toBe('Head coach');
});

it('lets only a head coach make another', () => {
  expect(rolesToInvite('headCoach')).toContain('headCoach');
  expect(rolesToInvite('coordinator')).not.toContain('headCoach');
});
