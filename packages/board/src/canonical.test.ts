import { boardPlay } from '@stemline/testkit/plays';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { canonicalJson, contentHash } from './canonical.ts';
import { createBoardState } from './create.ts';
import { boardFromState } from './migrations.ts';
import { project } from './project.ts';

// Properties run for as long as a busy machine needs.
vi.setConfig({ testTimeout: 120_000 });

describe('canonical JSON', () => {
  // RFC 8785, section 3.2.3: the property names of its sorting example, in the order it gives.
  it('sorts names as the example of RFC 8785, 3.2.3 does', () => {
    const example = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    const values = [...canonicalJson(example).matchAll(/:"([^"]*)"/g)].map((match) => match[1]);
    expect(values).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  // RFC 8785, section 3.2.2: its example of primitive values.
  it('writes values as the example of RFC 8785, 3.2.2 does', () => {
    const example: unknown = JSON.parse(String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`);
    expect(canonicalJson(example)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  it('says the same whatever the order of names, and reads back as the same', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it('refuses what JSON cannot hold', () => {
    expect(() => canonicalJson(Number.NaN)).toThrow();
    expect(() => canonicalJson([undefined])).toThrow();
    expect(() => canonicalJson(1n)).toThrow();
  });
});

describe('content hash', () => {
  it('survives the way through a document and through JSON', () => {
    fc.assert(
      fc.property(boardPlay(), (board) => {
        const opened = boardFromState(createBoardState(board.play, board.notes));
        if (!opened.ok) throw new Error(opened.code);
        const hash = contentHash(board);
        expect(contentHash(project(opened.ydoc).board)).toBe(hash);
        expect(contentHash(JSON.parse(JSON.stringify(board)))).toBe(hash);
        expect(hash).toMatch(/^[0-9a-f]{64}$/);
      }),
      { numRuns: 50 },
    );
  });

  it('differs when anything differs', () => {
    fc.assert(
      fc.property(boardPlay(), boardPlay(), (a, b) => {
        const same = canonicalJson(a) === canonicalJson(b);
        expect(contentHash(a) === contentHash(b)).toBe(same);
      }),
      { numRuns: 50 },
    );
  });
});
