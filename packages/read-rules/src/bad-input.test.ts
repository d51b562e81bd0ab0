import { builtInLooks, lookRecipeSchema } from '@stemline/football/shelf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { check } from './check.ts';
import { ruledPlaySchema } from './ruled-play.ts';
import { card, doubles, is, range, row } from './testing/cards.ts';
import { malformed } from './well-formed.ts';

const shelf = builtInLooks.slice(0, 3);
const inputSchema = z.strictObject({ play: ruledPlaySchema, looks: z.array(lookRecipeSchema) });

const sound = doubles([
  card(
    [
      row('near', 'in', is('keyRushes', true), range('keyOffset', ',2)')),
      row('far', 'out', range('keyOffset', '[2,')),
    ],
    { whenInDoubt: null },
  ),
]);
const input = { play: sound, looks: shelf };

type Path = readonly (string | number)[];
function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  return [path, ...Object.entries(value).flatMap(([key, part]) => pathsOf(part, [...path, key]))];
}
function at(value: unknown, path: Path): unknown {
  return path.reduce<unknown>((part, key) => (part as Record<string, unknown>)[key], value);
}

const paths = pathsOf(input).filter((path) => path.length > 0);

/** The same value with another in one place; `undefined` takes the place away. */
function replaced(value: unknown, [key, ...rest]: Path, by: unknown): unknown {
  if (key === undefined) return by;
  if (Array.isArray(value)) {
    return value.flatMap((part, i) => {
      if (String(i) !== String(key)) return [part];
      const now = replaced(part, rest, by);
      return now === undefined ? [] : [now];
    });
  }
  const fields = { ...(value as Record<string, unknown>) };
  const now = replaced(fields[key], rest, by);
  if (now === undefined) delete fields[key];
  else fields[key] = now;
  return fields;
}

const junk = fc.oneof(
  fc.constantFrom<unknown>(undefined, null, '', 'x', [], {}, true, false, -1, 0, 0.5, 1e9, -1e9),
  fc.constantFrom<unknown>(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY),
  fc.constantFrom<unknown>(
    [[0, 0]],
    [
      [1, 2],
      [1, 2],
    ],
    { kind: 'is' },
    '__proto__',
    'h',
  ),
  fc.double({ noNaN: true, min: -70, max: 130 }),
);

const numbered = paths.filter((path) => typeof at(input, path) === 'number');
const change = fc.oneof(
  fc.tuple(fc.constantFrom(...paths), junk),
  fc.tuple(fc.constantFrom(...numbered), fc.integer({ min: 0, max: 12 })),
);

const mutated = fc.array(change, { minLength: 1, maxLength: 4 }).map((changes) =>
  changes.reduce<unknown>((value, [path, by]) => {
    try {
      return replaced(value, path, by);
    } catch {
      // An earlier change took this place away.
      return value;
    }
  }, input),
);

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(numbersIn);
}

describe('bad input', () => {
  it('F2 U4 what the schema lets through is checked without a throw, and no number in it is NaN', () => {
    let refused = 0;
    let checked = 0;
    fc.assert(
      fc.property(mutated, (one) => {
        const read = inputSchema.safeParse(one);
        if (!read.success) {
          refused++;
          for (const { path, message } of read.error.issues) {
            expect(Array.isArray(path)).toBe(true);
            expect(message).not.toBe('');
          }
          return;
        }
        checked++;
        const findings = check(read.data.play, read.data.looks);
        expect(numbersIn(findings).every(Number.isFinite)).toBe(true);
        for (const { says, elements } of findings) {
          expect(elements.length).toBeGreaterThan(0);
          expect(says).not.toMatch(/NaN|Infinity|undefined|null|\[object/);
        }
      }),
      { numRuns: 600 },
    );
    expect(refused).toBeGreaterThan(100);
    expect(checked).toBeGreaterThan(20);
  }, 60_000);

  it('F2 U4 a play that went past the schema, with any number or none in any place, is checked without a throw', () => {
    const numbers = pathsOf(sound).filter((path) => typeof at(sound, path) === 'number');
    const wild = fc.oneof(
      fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -0, 1e308),
      fc.double({ noNaN: true, min: -1000, max: 1000 }),
    );
    let faulty = 0;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...numbers), wild), { minLength: 1, maxLength: 3 }),
        (changes) => {
          const play = changes.reduce<unknown>(
            (value, [path, by]) => replaced(value, path, by),
            sound,
          ) as typeof sound;
          const faults = malformed(play);
          if (faults.length > 0) faulty++;
          for (const { path } of faults) expect(path.length).toBeGreaterThan(0);
          const findings = check(play, shelf);
          expect(numbersIn(findings).every(Number.isFinite)).toBe(true);
          for (const { path } of faults)
            expect(findings.some(({ says }) => says.includes(path.join('.')))).toBe(true);
        },
      ),
      { numRuns: 400 },
    );
    expect(faulty).toBeGreaterThan(100);
  }, 60_000);

  it('U1 a card without rows, U4 two men in one place and an empty route are told by name', () => {
    const noRows = { ...sound, cards: [card([])] };
    expect(check(noRows, shelf)).toContainEqual(
      expect.objectContaining({ kind: 'unfinished', severity: 'stop' }),
    );
    const route = {
      release: { side: 'free', hesitate: 0 },
      stem: [],
      finish: [],
      shape: 'sharp',
      name: '',
    };
    const read = ruledPlaySchema.safeParse({ ...sound, routes: { h: route } });
    expect(read.error?.issues).toMatchObject([{ path: ['routes', 'h', 'stem'] }]);
    const [first, second, ...others] = sound.players;
    if (!first || !second) throw new Error('a formation without players');
    const stacked = { ...sound, players: [first, { ...second, at: first.at }, ...others] };
    expect(malformed(stacked)).toMatchObject([
      { code: 'twoPlayersOnePlace', path: ['players', 1, 'at'] },
    ]);
    expect(check(stacked, shelf).map(({ says }) => says)).toContainEqual(
      expect.stringContaining('players.1.at'),
    );
  });
});
