import type { Change } from '@stemline/protocol/api/signoff';
import type { Role } from '@stemline/protocol/roles';
import { describe, expect, it } from 'vitest';
import { blocking, type ChangeFinding, changeActions, whyBlocked } from './gate.ts';

const stop: ChangeFinding = { id: 'a', severity: 'stop', says: 'gap', waived: false };
const waived: ChangeFinding = { ...stop, id: 'b', waived: true };
const warn: ChangeFinding = { ...stop, id: 'c', severity: 'warn' };
const change = (findings: ChangeFinding[], state: Change['state'] = 'sentUp') => ({
  state,
  findings,
  sentByMemberId: 'sender',
});
const actions = (role: Role, of: ReturnType<typeof change>, memberId = 'somebody') =>
  changeActions({ role, memberId }, of);

describe('what stands between a change and its sign-off', () => {
  it('is a finding of the highest severity that nobody has waived', () => {
    expect(blocking([stop, waived, warn])).toEqual([stop]);
  });
  it('is said in numbers', () => {
    expect(whyBlocked([waived, warn])).toBeNull();
    expect(whyBlocked([stop])).toMatch(/^One finding/);
    expect(whyBlocked([stop, { ...stop, id: 'd' }])).toMatch(/^2 findings/);
  });
});

describe('what a reader can do with a change', () => {
  it('lets the head coach sign off only what nothing blocks', () => {
    expect(actions('headCoach', change([warn, waived]))).toEqual(['signOff', 'sendBack']);
    expect(actions('headCoach', change([stop]))).toEqual(['sendBack']);
  });
  it('lets whoever sent it up take it back, and nobody else', () => {
    expect(actions('coordinator', change([]), 'sender')).toEqual(['withdraw']);
    expect(actions('coordinator', change([]))).toEqual([]);
    expect(actions('headCoach', change([]), 'sender')).toEqual(['signOff', 'sendBack', 'withdraw']);
    expect(changeActions({ role: 'coordinator', memberId: undefined }, change([]))).toEqual([]);
  });
  it.each<Role>(['assistant', 'player'])('lets a %s do nothing', (role) => {
    expect(actions(role, change([]))).toEqual([]);
  });
  it.each(['signedOff', 'sentBack', 'withdrawn'] as const)('is nothing once it is %s', (state) => {
    expect(actions('headCoach', change([], state), 'sender')).toEqual([]);
  });
});
