import type { BoardLine } from '@stemline/protocol/api/boards';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bookLines, orders, shows } from './book-lines.ts';

const line = (part: Partial<BoardLine>): BoardLine => ({
  id: part.name ?? 'id',
  name: 'Play',
  concept: '',
  formation: 'Doubles, 2x2',
  updatedAt: '2026-10-01T00:00:00.000Z',
  archivedAt: null,
  signedVersion: null,
  sentUp: false,
  openFindings: { stop: 0, warn: 0, note: 0 },
  openComments: 0,
  ...part,
});

const harbor = line({
  name: 'Harbor 2',
  concept: 'option',
  updatedAt: '2026-10-03T00:00:00.000Z',
  signedVersion: 2,
});
const harbor10 = line({ name: 'Harbor 10', openFindings: { stop: 1, warn: 0, note: 0 } });
const mill = line({
  name: 'Mill',
  concept: 'Flood',
  sentUp: true,
  openFindings: { stop: 0, warn: 0, note: 4 },
});
const all = [harbor10, mill, harbor];
const names = (asked: Partial<Parameters<typeof bookLines>[1]>) =>
  bookLines(all, { search: '', show: 'all', order: 'name', ...asked }).map(({ name }) => name);

describe('the lines of the book', () => {
  it('holds every word of the search, in any field and any case', () => {
    expect(names({ search: 'HARBOR opt' })).toEqual(['Harbor 2']);
    expect(names({ search: '2x2' })).toHaveLength(3);
    expect(names({ search: 'nowhere' })).toEqual([]);
  });
  it('counts numbers as numbers in the order of names', () => {
    expect(names({})).toEqual(['Harbor 2', 'Harbor 10', 'Mill']);
  });
  it('puts what was touched last first', () => {
    expect(names({ order: 'updated' })[0]).toBe('Harbor 2');
  });
  it('shows what was asked for', () => {
    expect(names({ show: 'sentUp' })).toEqual(['Mill']);
    expect(names({ show: 'findings' })).toEqual(['Harbor 10']);
    expect(names({ show: 'neverSigned' })).toEqual(['Harbor 10', 'Mill']);
  });
  it('never makes up or doubles a line, whatever is asked', () => {
    fc.assert(
      fc.property(
        fc.string(),
        fc.constantFrom(...shows),
        fc.constantFrom(...orders),
        (search, show, order) => {
          const shown = bookLines(all, { search, show, order });
          expect(new Set(shown).size).toBe(shown.length);
          for (const one of shown) expect(all).toContain(one);
        },
      ),
    );
  });
});
