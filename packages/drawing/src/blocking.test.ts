import { playersOf } from '@stemline/football/formation';
import { defenderIdSchema, playerIdSchema } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import { alignLook, builtInLooks } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';
import type { Blocks } from './blocking.ts';
import { sceneOf } from './play-scene.ts';
import { boxOf } from './view.ts';

const situation: Play['situation'] = {
  code: 'highSchool',
  spot: 'left',
  toGoal: 60,
  down: 1,
  toGain: 10,
};
const play: Play = {
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }),
  routes: {},
  motions: {},
};
const [recipe] = builtInLooks;
if (!recipe) throw new Error('the shelf is empty');
const look = alignLook(recipe, play);
const [end, , , other] = look.defenders;
const q = playerIdSchema.parse('q');
const lt = playerIdSchema.parse('lt');
const blocks: Blocks = {
  blocks: [{ player: lt, defender: end?.id ?? defenderIdSchema.parse('none') }],
  free: [
    {
      defender: other?.id ?? defenderIdSchema.parse('none'),
      to: [0, -8],
      label: 'free 2.1 s',
      inTime: true,
    },
  ],
  drop: { player: q, to: [0, -8] },
};
const ids = (shown: Blocks, before: typeof look | null = look): string[] =>
  sceneOf(play, { look: before, blocks: shown }).groups.map(({ id }) => id);

describe('who blocks whom, drawn', () => {
  it('is a bar before each man who is blocked, an arrow of each who is free, and the drop', () => {
    const scene = sceneOf(play, { look, blocks });
    const block = scene.groups.find(({ id }) => id === 'block-lt');
    expect(block?.subject).toEqual({ kind: 'block', player: lt });
    expect(block?.items.map(({ role }) => role)).toEqual(['block', 'block']);
    const free = scene.groups.find(({ id }) => id === `free-${other?.id}`);
    expect(free?.items.map(({ role }) => role)).toEqual(['free', 'freeEnd', 'freeLabel']);
    expect(scene.groups.some(({ id }) => id === 'drop-q')).toBe(true);
  });

  it('tells a man who is too late apart by more than colour', () => {
    const late = { ...blocks, free: blocks.free.map((man) => ({ ...man, inTime: false })) };
    const scene = sceneOf(play, { look, blocks: late });
    const free = scene.groups.find(({ id }) => id === `free-${other?.id}`);
    expect(free?.items.map(({ role }) => role)).toEqual([
      'freeLate',
      'freeLateEnd',
      'freeLateLabel',
    ]);
  });

  it('leaves out whoever is not there, and a drop that goes nowhere', () => {
    expect(ids(blocks, null).filter((id) => /^(block|free)/.test(id))).toEqual([]);
    const passer = play.players.find(({ id }) => id === q);
    const still: Blocks = { blocks: [], free: [], drop: { player: q, to: passer?.at ?? [0, 0] } };
    expect(ids(still)).not.toContain('drop-q');
    const gone: Blocks = {
      blocks: [
        { player: playerIdSchema.parse('nobody'), defender: defenderIdSchema.parse('none') },
      ],
      free: [],
      drop: null,
    };
    expect(ids(gone)).toEqual(ids({ blocks: [], free: [], drop: null }));
  });

  it('is seen in a view around the ball, wherever it lies', () => {
    const view = boxOf(play);
    const line = play.players.filter(({ position }) => ['C', 'G', 'T', 'QB'].includes(position));
    for (const { at } of line) {
      expect(at[0]).toBeGreaterThan(view.left + 3);
      expect(at[0]).toBeLessThan(view.left + view.width - 3);
      expect(at[1]).toBeGreaterThan(view.bottom);
    }
  });
});
