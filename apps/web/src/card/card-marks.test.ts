import { playerIdSchema } from '@stemline/football/ids';
import type { LiveFinding } from '@stemline/protocol/message';
import { rowIdSchema } from '@stemline/read-rules/card';
import type { Finding } from '@stemline/read-rules/finding';
import { describe, expect, it } from 'vitest';
import type { ShownFinding } from '../rule-check/shown-finding.ts';
import { findingsOfCard } from './card-marks.ts';

const h = playerIdSchema.parse('h');
const z = playerIdSchema.parse('z');
const row = (id: string) => ({ kind: 'row', player: h, row: rowIdSchema.parse(id) }) as const;
const live = (finding: Partial<Finding>, waived = false): ShownFinding => ({
  state: 'stands',
  live: liveFinding(finding, waived),
});
const liveFinding = (finding: Partial<Finding>, waived: boolean): LiveFinding => ({
  finding: {
    id: 'f',
    kind: 'gap',
    severity: 'stop',
    elements: [{ kind: 'card', player: h }],
    says: 'there is a hole',
    mend: '',
    witness: null,
    ...finding,
  },
  openedAt: '2026-01-01T00:00:00.000Z',
  authors: [],
  waived: waived ? { by: 'Ada', reason: 'taught by hand', at: '2026-01-01T00:00:00.000Z' } : null,
});

describe('the findings of a card', () => {
  it('a clash stands at both of its rows, what is about the whole card apart', () => {
    const marks = findingsOfCard(
      [live({ id: 'gap' }), live({ id: 'clash', kind: 'clash', elements: [row('r1'), row('r2')] })],
      h,
    );
    expect(marks.card.map(({ id }) => id)).toEqual(['gap']);
    expect([...marks.rows.keys()]).toEqual(['r1', 'r2']);
  });

  it('a row that is never used is not laid at the rows before it', () => {
    const never = live({ kind: 'neverUsed', elements: [row('r2'), row('r1')] });
    expect([...findingsOfCard([never], h).rows.keys()]).toEqual(['r2']);
  });

  it('leaves out what is waived and what is about other cards', () => {
    expect(findingsOfCard([live({}, true)], h).card).toEqual([]);
    expect(findingsOfCard([live({})], z).card).toEqual([]);
  });
});
