import type { LiveFinding } from '@stemline/protocol/message';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Background } from './background.ts';
import { FindingHistory } from './finding-history.ts';

const every = 2_000;
const faults: unknown[] = [];

/** Findings of which the history looks at nothing but the ids. */
const findings = (...ids: string[]): LiveFinding[] =>
  ids.map((id) => ({ finding: { id } }) as LiveFinding);

/** A history whose records are only noted, each with its time. */
function open({ fails = 0, leads = (): boolean => true } = {}) {
  const records: { at: number; ids: string[] }[] = [];
  let failures = fails;
  const begun = performance.now();
  const history = new FindingHistory({
    boardId: 'board',
    store: {
      recordFindings: async (_, standing) => {
        if (failures-- > 0) throw new Error('the store is away');
        records.push({
          at: performance.now() - begun,
          ids: standing.map(({ finding }) => finding.id),
        });
      },
    },
    background: new Background((error) => faults.push(error)),
    limits: { findingsRecordedEveryMs: every },
    now: () => new Date(),
    leads,
  });
  return { history, records };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  faults.splice(0);
});

describe('the history of findings', () => {
  it('R62 keeps the first change at once, and of those that follow the last', async () => {
    const { history, records } = open();
    history.stands(findings('a'));
    for (let i = 0; i < 9; i++) {
      await vi.advanceTimersByTimeAsync(every / 10);
      history.stands(findings(`b${i}`));
    }
    await vi.advanceTimersByTimeAsync(10 * every);
    expect(records).toEqual([
      { at: 0, ids: ['a'] },
      { at: every, ids: ['b8'] },
    ]);
  });

  it('R62 keeps nothing for a list that came and went between two records', async () => {
    const { history, records } = open();
    history.stands(findings('a'));
    await vi.advanceTimersByTimeAsync(1);
    history.stands(findings('a', 'b'));
    history.stands(findings('a'));
    await vi.advanceTimersByTimeAsync(10 * every);
    expect(records).toHaveLength(1);
  });

  it('R62 knows what the store has as open', async () => {
    const { history, records } = open();
    history.known(['b', 'a']);
    history.stands(findings('a', 'b'));
    await vi.advanceTimersByTimeAsync(every);
    expect(records).toEqual([]);
    history.stands([]);
    await vi.advanceTimersByTimeAsync(0);
    expect(records).toEqual([{ at: every, ids: [] }]);
  });

  it('R62 tries again until the store has it, and then has the newest list', async () => {
    const { history, records } = open({ fails: 3 });
    history.stands(findings('a'));
    await vi.advanceTimersByTimeAsync(50);
    history.stands(findings('b'));
    await vi.advanceTimersByTimeAsync(10 * every);
    expect(faults).toHaveLength(3);
    expect(records.map(({ ids }) => ids)).toEqual([['b']]);
  });

  it('R106 leaves it to the server that leads by the time it is due', async () => {
    let isLeading = true;
    const { history, records } = open({ leads: () => isLeading });
    history.stands(findings('a'));
    await vi.advanceTimersByTimeAsync(1);
    history.stands(findings('b'));
    isLeading = false;
    await vi.advanceTimersByTimeAsync(10 * every);
    expect(records.map(({ ids }) => ids)).toEqual([['a']]);
  });

  it('R81 keeps nothing after the room has gone', async () => {
    const { history, records } = open();
    history.stands(findings('a'));
    await vi.advanceTimersByTimeAsync(1);
    history.stands(findings('b'));
    history.close();
    await vi.advanceTimersByTimeAsync(10 * every);
    expect(records).toHaveLength(1);
  });
});
