import type { Change } from '@stemline/protocol/api/signoff';
import { describe, expect, it } from 'vitest';
import { blocking, type ChangeFinding, changeActions, whyBlocked } from './gate.ts';

const stop: ChangeFinding = { id: 'a', severity: 'stop', says: 'gap', waived: false };
const waived: ChangeFinding = { ...stop, id: 'b', waived: true };
const warn: ChangeFinding = { ...stop, id: 'c', severity: 'warn' };
const change = (findings: ChangeFinding[], state: Change['state'] = 'sentUp') => ({
  state,
  findings,
});

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
    expect(changeActions('headCoach', change([warn, waived]))).toContain('signOff');
    expect(changeActions('headCoach', change([stop]))).toEqual(['sendBack', 'withdraw']);
  });
  it('lets who sends up take it back, and assistants nothing', () => {
    expect(changeActions('coordinator', change([]))).toEqual(['withdraw']);
    expect(changeActions('assistant', change([]))).toEqual([]);
    expect(changeActions('player', change([]))).toEqual([]);
  });
  it.each(['signedOff', 'sentBack', 'withdrawn'] as const)('is nothing once it is %s', (state) => {
    expect(changeActions('headCoach', change([], state))).toEqual([]);
  });
});
