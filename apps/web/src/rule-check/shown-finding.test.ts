import { playerIdSchema } from '@stemline/football/ids';
import type { LiveFinding } from '@stemline/protocol/message';
import type { Finding } from '@stemline/read-rules/finding';
import { describe, expect, it } from 'vitest';
import { agree, asTheRoomSays, calm, seenAhead } from './shown-finding.ts';

const h = playerIdSchema.parse('h');
const finding = (id: string, more: Partial<Finding> = {}): Finding => ({
  id,
  kind: 'gap',
  severity: 'stop',
  elements: [{ kind: 'card', player: h }],
  says: id,
  mend: '',
  witness: null,
  ...more,
});
const live = (one: Finding): LiveFinding => ({
  finding: one,
  openedAt: '2026-09-01T10:00:00.000Z',
  authors: [],
  waived: null,
});

describe('findings seen ahead of the room', () => {
  it('are the room’s with its history, in the words of the play on this page', () => {
    const mends = [{ do: 'removeRow', says: 'Take it out' }] as unknown as NonNullable<
      Finding['mends']
    >;
    const shown = seenAhead([live(finding('a', { mends }))], [finding('a', { says: 'now' })]);
    expect(shown).toMatchObject([
      {
        state: 'stands',
        live: { openedAt: '2026-09-01T10:00:00.000Z', finding: { says: 'now', mends } },
      },
    ]);
  });

  it('tell a gap once that has become another', () => {
    const other = finding('x', { kind: 'late' });
    expect(seenAhead([live(finding('a')), live(other)], [finding('b')])).toEqual([
      { state: 'closes', live: live(other) },
      { state: 'opens', finding: finding('b') },
    ]);
  });

  it('agree with the room when they are the same ones', () => {
    expect(agree([live(finding('a'))], [finding('a', { says: 'other words' })])).toBe(true);
    expect(agree([live(finding('a'))], [])).toBe(false);
    expect(agree([], [finding('a')])).toBe(false);
  });

  it('take over the witness of a play at rest, and leave it alone under a hand', () => {
    const before = asTheRoomSays([live(finding('a'))]);
    const mends: Finding['mends'] = [];
    const [is] = before;
    if (is?.state !== 'stands') throw new Error('it stands');
    const next = [{ ...is, live: { ...is.live, finding: { ...is.live.finding, mends } } }];
    expect(calm(before, next, true)).toBe(before);
    expect(calm(before, next, false)).toEqual(next);
  });
});
