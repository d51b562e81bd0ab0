import type { Role } from '@stemline/protocol/roles';
import { describe, expect, it } from 'vitest';
import { playActions } from './play-actions.ts';

const working = { archivedAt: null, signedVersion: null };
const signed = { archivedAt: null, signedVersion: 3 };
const archived = { archivedAt: '2026-10-01T00:00:00.000Z', signedVersion: null };

describe('the menu of a play', () => {
  it.each<[Role, typeof working | typeof signed | typeof archived, string[]]>([
    ['coordinator', working, ['open', 'duplicate', 'letIn', 'archive']],
    ['headCoach', signed, ['open', 'openSigned', 'duplicate', 'letIn', 'archive']],
    ['headCoach', archived, ['open', 'duplicate', 'restore']],
    ['positionCoach', signed, ['open', 'openSigned', 'duplicate']],
    ['assistant', signed, ['open', 'openSigned']],
    ['player', signed, ['openSigned']],
    ['player', working, []],
  ])('of a %s on %j', (role, line, actions) => {
    expect(playActions(role, line)).toEqual(actions);
  });
});
