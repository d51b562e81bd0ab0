import { fieldOf, halfWidth } from '@stemline/football/field';
import { formations, playersOf } from '@stemline/football/formation';
import type { Point } from '@stemline/football/geometry';
import {
  defenderIdSchema,
  lookIdSchema,
  playerIdSchema,
  reactionIdSchema,
} from '@stemline/football/ids';
import type { AlignedLook } from '@stemline/football/look';
import type { Play, Situation } from '@stemline/football/play';
import { ruleCodeSchema } from '@stemline/football/rulecode';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ExtraPath } from './options.ts';
import { sceneOf } from './play-scene.ts';
import type { Primitive, Scene } from './scene.ts';
import { sceneToSvg } from './svg.ts';
import { viewOf } from './view.ts';

const situation: Situation = {
  code: 'highSchool',
  spot: 'middle',
  toGoal: 60,
  down: 1,
  toGain: 10,
};
const playOf = (formation: string, change: Partial<Play> = {}): Play => ({
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf(formation, { strength: 'right', situation: change.situation ?? situation }),
  routes: {},
  motions: {},
  ...change,
});
const items = (scene: Scene): Primitive[] => scene.groups.flatMap((group) => [...group.items]);
const role = (scene: Scene, name: Primitive['role']): Primitive[] =>
  items(scene).filter((item) => item.role === name);
const h = playerIdSchema.parse('h');
const look: AlignedLook = {
  id: lookIdSchema.parse('over'),
  name: 'Over',
  traits: { front: 'even', shell: 'twoHigh', middle: 'open', coverage: 'zone' },
  defenders: [
    {
      id: defenderIdSchema.parse('N'),
      label: 'N',
      level: 'second',
      at: [7, 4.5],
      reactions: [
        { id: reactionIdSchema.parse('drop'), move: 'drop', says: 'drops', to: [10, 10] },
        { id: reactionIdSchema.parse('rush'), move: 'rush', says: 'comes', to: [0, -4] },
      ],
    },
  ],
};
const finite = (value: unknown): boolean =>
  typeof value === 'number'
    ? Number.isFinite(value)
    : typeof value !== 'object' || value === null || Object.values(value).every(finite);

describe('the field under a play', () => {
  it.each(ruleCodeSchema.options)('puts the hash marks of %s where its rule book does', (code) => {
    const scene = sceneOf(playOf('doubles', { situation: { ...situation, code } }));
    const marks = role(scene, 'hash').flatMap((item) => (item.kind === 'marks' ? item.marks : []));
    const middles = new Set(marks.map(([a, b]) => ((a[0] + b[0]) / 2).toFixed(4)));
    expect(middles).toContain(fieldOf(code).hash.toFixed(4));
    expect(middles).toContain((-fieldOf(code).hash).toFixed(4));
  });

  // NFHS/NCAA: tops of the numbers nine yards from the sideline; NFL: bottoms twelve yards from it.
  it.each([
    ['highSchool', 9],
    ['college', 9],
    ['professional', 14],
  ] as const)('prints the numbers of %s with their tops %d yd from the sideline', (code, top) => {
    const scene = sceneOf(playOf('doubles', { situation: { ...situation, code } }));
    const number = role(scene, 'fieldNumber').find(
      (item) => item.kind === 'text' && item.at[0] > 0,
    );
    if (number?.kind !== 'text') throw new Error('no number is drawn');
    expect(halfWidth - number.at[0] + number.size / 2).toBeCloseTo(top, 9);
  });

  it('counts the yard lines down to the goal that is attacked, and up past midfield', () => {
    const texts = role(sceneOf(playOf('doubles')), 'fieldNumber').map((item) =>
      item.kind === 'text' ? `${item.at[1]}:${item.text.replace(/\D/g, '')}` : '',
    );
    expect(new Set(texts)).toEqual(new Set(['0:40', '10:50', '20:40']));
  });

  it('ends at the end line', () => {
    const scene = sceneOf(playOf('doubles', { situation: { ...situation, toGoal: 5, toGain: 5 } }));
    const goals = role(scene, 'goalLine').flatMap((item) =>
      item.kind === 'marks' ? item.marks : [],
    );
    expect(goals.map(([a]) => a[1])).toEqual([5]);
    const lines = role(scene, 'yardLine').flatMap((item) =>
      item.kind === 'marks' ? item.marks : [],
    );
    expect(Math.max(...lines.map(([a]) => a[1]))).toBeLessThan(5);
    expect(role(scene, 'lineToGain')).toEqual([]);
  });
});

describe('the men', () => {
  it.each(formations.map(({ id }) => id))('draws eleven of %s, the snapper square', (id) => {
    const scene = sceneOf(playOf(id));
    expect(role(scene, 'player')).toHaveLength(11);
    expect(role(scene, 'player').filter((item) => item.kind === 'square')).toHaveLength(1);
  });

  it('keeps daylight between neighbours of the line', () => {
    const marks = role(sceneOf(playOf('doubles')), 'player').flatMap((item) =>
      item.kind === 'circle' || item.kind === 'square' ? [item] : [],
    );
    const half = (mark: (typeof marks)[number]): number =>
      mark.kind === 'circle' ? mark.radius : mark.half;
    for (const a of marks)
      for (const b of marks)
        if (a !== b)
          expect(Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])).toBeGreaterThan(
            half(a) + half(b),
          );
  });

  it('ends a route that runs on with an arrow, one that stops with a dot, and none with a bar', () => {
    const route = {
      release: { side: 'free', hesitate: 0 },
      stem: [[0, 6]],
      shape: 'sharp',
      name: '',
    } as const;
    const on = sceneOf(playOf('doubles', { routes: { [h]: { ...route, finish: [[5, 6]] } } }));
    const straight = sceneOf(playOf('doubles', { routes: { [h]: { ...route, finish: [] } } }));
    const sit = { ...route, finish: [], name: 'Sit' };
    const sits = sceneOf(playOf('doubles', { routes: { [h]: sit } }));
    expect(role(on, 'routeEnd')).toMatchObject([{ kind: 'polygon' }]);
    expect(role(straight, 'routeEnd')).toMatchObject([{ kind: 'polygon' }]);
    expect(role(sits, 'routeEnd')).toMatchObject([{ kind: 'circle' }]);
    for (const scene of [on, straight, sits]) expect(role(scene, 'route')).toHaveLength(1);
  });

  it('starts a route where motion has taken its man', () => {
    const route = {
      release: { side: 'free', hesitate: 0 },
      stem: [[0, 8]],
      finish: [],
      shape: 'sharp',
      name: '',
    } as const;
    const play = playOf('doubles', {
      routes: { [h]: route },
      motions: { [h]: { path: [[-6, -1]], atSnap: 'moving' } },
    });
    const from = play.players.find(({ id }) => id === h);
    const line = role(sceneOf(play), 'route')[0];
    if (!from || line?.kind !== 'path') throw new Error('no route is drawn');
    expect(line.from[0]).toBeCloseTo(from.at[0] - 6);
    expect(role(sceneOf(play), 'motion')).toHaveLength(1);
    expect(role(sceneOf(play), 'shift')).toHaveLength(0);
  });

  it('shows a drag where it is, and where it came from', () => {
    const scene = sceneOf(playOf('doubles'), { dragging: new Map([[h, [12, -3]]]) });
    const mark = scene.groups.find(({ id }) => id === 'player-h')?.items[0];
    expect(mark).toMatchObject({ at: [12, -3] });
    expect(scene.groups.some(({ id }) => id === 'ghost-h')).toBe(true);
  });
});

describe('paths beside the play', () => {
  const stem = {
    release: { side: 'free', hesitate: 0 },
    stem: [[0, 6]],
    finish: [],
    shape: 'sharp',
    name: '',
  } as const;
  const play = playOf('doubles', { routes: { [h]: stem } });
  const from: Point = [8, 6];
  const paths: ExtraPath[] = [
    { id: 'in', points: [from, [1, 6]], emphasis: 'plain', end: 'arrow', label: 'IN' },
    { id: 'out', points: [from, [14, 6]], emphasis: 'quiet', end: 'arrow', label: 'OUT' },
    { id: 'sit', points: [from, [8, 7]], emphasis: 'lit', end: 'dot', label: 'SIT' },
  ];

  it('each have a line, an end and a name, however much they stand out', () => {
    const scene = sceneOf(play, { paths });
    expect(role(scene, 'branchPlain')).toHaveLength(1);
    expect(role(scene, 'branchPlainEnd')).toHaveLength(1);
    expect(role(scene, 'branch')).toHaveLength(1);
    expect(role(scene, 'branchLit')).toHaveLength(1);
    expect(role(scene, 'branchLitEnd')).toHaveLength(1);
    expect(
      (['branchPlainName', 'branchName', 'branchLabel'] as const).flatMap((name) =>
        role(scene, name).map((item) => item.kind === 'text' && item.text),
      ),
    ).toEqual(['IN', 'OUT', 'SIT']);
  });

  it('have letters as large as the drawing needs', () => {
    const letters = role(sceneOf(play, { paths, labelSize: 1.9 }), 'branchPlainName');
    expect(letters).toMatchObject([{ size: 1.9 }]);
  });

  it('go on from a stem, which then has no end of its own', () => {
    expect(role(sceneOf(play), 'routeEnd')).toHaveLength(1);
    expect(role(sceneOf(play, { stems: [h] }), 'routeEnd')).toHaveLength(0);
  });

  it('are in the picture when it is asked to hold them', () => {
    const view = viewOf(play, 'play', [[20, 30]]);
    expect(view.left + view.width).toBeGreaterThan(20);
    expect(view.bottom + view.height).toBeGreaterThan(30);
  });
});

describe('an earlier version', () => {
  it('is drawn under the play where it differs, and only there', () => {
    const before = playOf('doubles');
    const after = playOf('doubles', {
      players: before.players.map((player) =>
        player.id === h ? { ...player, at: [12, -1.5] as const } : player,
      ),
    });
    const groups = sceneOf(after, { before }).groups.filter(
      ({ subject }) => subject.kind === 'before',
    );
    expect(groups.map(({ id }) => id)).toEqual(['before-h']);
    expect(
      sceneOf(before, { before }).groups.some(({ subject }) => subject.kind === 'before'),
    ).toBe(false);
  });
});

describe('the defence', () => {
  it('draws the chosen reaction, and marks the key', () => {
    const n = defenderIdSchema.parse('N');
    const choice = { [n]: reactionIdSchema.parse('rush') };
    const scene = sceneOf(playOf('doubles'), { look, key: n, reactions: choice });
    const line = role(scene, 'keyReaction')[0];
    if (line?.kind !== 'path') throw new Error('no reaction is drawn');
    expect(line.steps.at(-1)?.to).toEqual([0, -4]);
    expect(role(scene, 'keyMark')).toHaveLength(1);
    expect(
      sceneOf(playOf('doubles'), { look, showReactions: 'none' }).groups.map(({ id }) => id),
    ).not.toContain('reaction-N');
  });
});

describe('laws', () => {
  const point = fc.tuple(
    fc.double({ min: -30, max: 30, noNaN: true }),
    fc.double({ min: -20, max: 40, noNaN: true }),
  );
  const path = fc.array(point, { minLength: 1, maxLength: 8 });
  it('every scene is finite, its groups have names of their own, and its file is well formed', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...formations.map(({ id }) => id)),
        path,
        path,
        fc.constantFrom('sharp', 'rounded'),
        fc.integer({ min: 1, max: 99 }),
        fc.string({ minLength: 1, maxLength: 4, unit: 'binary' }),
        (formation, stem, finish, shape, toGoal, label) => {
          const play = playOf(formation, {
            situation: { ...situation, toGoal },
            routes: {
              [h]: { release: { side: 'free', hesitate: 0.3 }, stem, finish, shape, name: '' },
            },
            motions: { [h]: { path: stem, atSnap: 'moving' } },
          });
          const [first, ...rest] = play.players;
          if (!first) throw new Error('a formation has men');
          const scene = sceneOf(
            { ...play, players: [{ ...first, label }, ...rest] },
            { look, showBreaks: true },
          );
          expect(finite(scene)).toBe(true);
          const ids = scene.groups.map(({ id }) => id);
          expect(new Set(ids).size).toBe(ids.length);
          const svg = sceneToSvg(scene, { title: label });
          expect(svg).not.toMatch(/NaN|undefined|Infinity/);
          expect(/\p{Surrogate}/u.test(svg)).toBe(false);
          expect(svg.match(/<g /g)?.length).toBe(svg.match(/<\/g>/g)?.length);
        },
      ),
    );
  });

  it('is the same drawing for the same play', () => {
    const play = playOf('trips');
    expect(sceneToSvg(sceneOf(play, { look }))).toBe(sceneToSvg(sceneOf(play, { look })));
  });

  it('a cropped view holds every man and every route', () => {
    fc.assert(
      fc.property(fc.constantFrom(...formations.map(({ id }) => id)), (formation) => {
        const play = playOf(formation);
        const { view } = sceneOf(play, { frame: 'formation' });
        for (const { at } of play.players) {
          expect(at[0]).toBeGreaterThan(view.left);
          expect(at[0]).toBeLessThan(view.left + view.width);
          expect(at[1]).toBeGreaterThan(view.bottom);
        }
      }),
    );
  });

  it('a view of the play holds every route to its end, however deep', () => {
    const route = {
      release: { side: 'free', hesitate: 0 },
      stem: [[0, 14]],
      finish: [[-8, 32]],
      shape: 'sharp',
      name: '',
    } as const;
    const { view } = sceneOf(playOf('doubles', { routes: { [h]: route } }), { frame: 'play' });
    expect(view.bottom + view.height).toBeGreaterThan(31);
  });
});

describe('a file', () => {
  it('escapes what a coach may type', () => {
    const play = playOf('doubles');
    const players = play.players.map((player) => ({ ...player, label: '<&"' }));
    const svg = sceneToSvg(sceneOf({ ...play, players }), { title: 'A & B < C' });
    expect(svg).toContain('<title>A &amp; B &lt; C</title>');
    expect(svg).toContain('&lt;&amp;&quot;');
  });
});
