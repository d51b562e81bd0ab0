import type { Thread } from '@stemline/protocol/api/comments';
import { expect, it } from 'vitest';
import { openThreads, threadsToShow } from './thread-order.ts';

const thread = (
  id: string,
  anchor: string,
  at: string,
  resolvedAt: string | null = null,
): Thread => ({
  id,
  anchor,
  createdAt: at,
  resolvedAt,
  resolvedBy: null,
  comments: [
    {
      id: `${id}-1`,
      memberId: 'm',
      name: 'A',
      text: 'x',
      createdAt: at,
      editedAt: null,
      deletedAt: null,
    },
  ],
});

const old = thread('old', 'rows/f.r1', '2026-10-01T00:00:00.000Z');
const fresh = thread('fresh', '', '2026-10-03T00:00:00.000Z');
const done = thread('done', 'rows/f.r1', '2026-10-02T00:00:00.000Z', '2026-10-02T01:00:00.000Z');
const ids = (asked: { resolved: boolean; anchor: string }, writtenIn = '') =>
  threadsToShow([old, fresh, done], {
    ...asked,
    isWrittenIn: ({ id }) => id === writtenIn,
  }).map(({ id }) => id);

it('puts the latest word first', () => {
  expect(ids({ resolved: false, anchor: '' })).toEqual(['fresh', 'old']);
});
it('puts threads about the selected element before all others', () => {
  expect(ids({ resolved: false, anchor: 'rows/f.r1' })).toEqual(['old', 'fresh']);
});
it('keeps a thread that is written in where it was, though somebody resolved it', () => {
  expect(ids({ resolved: false, anchor: '' }, 'done')).toEqual(['fresh', 'done', 'old']);
  expect(ids({ resolved: true, anchor: '' }, 'old')).toEqual(['done']);
});
it('keeps resolved threads apart', () => {
  expect(ids({ resolved: true, anchor: '' })).toEqual(['done']);
  expect(openThreads([old, fresh, done])).toBe(2);
});
