import { halfWidth } from '@stemline/football/field';
import { playersOf } from '@stemline/football/formation';
import type { Point } from '@stemline/football/geometry';
import { playerIdSchema } from '@stemline/football/ids';
import type { Play, Situation } from '@stemline/football/play';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Around, finish, type Gesture, move, press, preview, release } from './gesture.ts';

const situation: Situation = { code: 'college', spot: 'middle', toGoal: 60, down: 1, toGain: 10 };
const [h, z, lt] = ['h', 'z', 'lt'].map((id) => playerIdSchema.parse(id)) as [
  ReturnType<typeof playerIdSchema.parse>,
  ReturnType<typeof playerIdSchema.parse>,
  ReturnType<typeof playerIdSchema.parse>,
];
const play: Play = {
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }).map((player) =>
    player.id === 'h' ? { ...player, at: [9, -1.5] } : player,
  ),
  routes: {},
  motions: {},
};
const spot = (id: typeof h, of: Play = play): Point => {
  const player = of.players.find((each) => each.id === id);
  if (!player) throw new Error('he is on the field');
  return player.at;
};
const around = (change: Partial<Around> = {}): Around => ({
  play,
  look: null,
  tool: 'select',
  selected: [],
  reach: 1.2,
  snapReach: 0.5,
  slack: 0.25,
  free: false,
  adding: false,
  mayEdit: () => true,
  ...change,
});
const under = (outcome: { gesture: Gesture | null }): Gesture => {
  if (!outcome.gesture) throw new Error('a gesture was expected');
  return outcome.gesture;
};
const plus = ([x, y]: Point, dx: number, dy: number): Point => [x + dx, y + dy];

describe('dragging players', () => {
  it('writes once, at the end, where the hand let go', () => {
    const here = around({ free: true });
    const begun = press(spot(h), here, null);
    expect(begun).toMatchObject({ select: [h] });
    const moved = move(plus(spot(h), 2, -1), here, under(begun));
    expect(preview(play, moved).dragging.get(h)).toEqual(plus(spot(h), 2, -1));
    const { gesture, edit } = release(here, moved);
    expect(gesture).toBeNull();
    expect(edit).toMatchObject({ do: 'movePlayers', moves: [{ player: h }] });
  });

  it('a press that does not move writes nothing', () => {
    const here = around();
    const begun = under(press(spot(h), here, null));
    expect(release(here, move(plus(spot(h), 0.1, 0), here, begun)).edit).toBeUndefined();
  });

  it('moves everybody who is selected, and keeps them apart as they were', () => {
    const here = around({ selected: [h, z], free: true });
    const moved = move(plus(spot(h), -1, -2), here, under(press(spot(h), here, null)));
    const { edit } = release(here, moved);
    if (edit?.do !== 'movePlayers') throw new Error('a move was expected');
    const at = (id: typeof h) => edit.moves.find(({ player }) => player === id)?.at ?? [0, 0];
    expect(at(z)[0] - at(h)[0]).toBeCloseTo(spot(z)[0] - spot(h)[0]);
    expect(edit.moves).toHaveLength(2);
  });

  it('rests on a landmark within reach and says which', () => {
    const here = around();
    const hash = 20 / 3;
    const begun = under(press(spot(h), here, null));
    const moved = move([hash + 0.2, -1.6], here, begun);
    expect(preview(play, moved).guides.map(({ name }) => name)).toContain('right hash');
    const { edit } = release(here, moved);
    expect(edit).toMatchObject({ moves: [{ at: [6.67, -1.5] }] });
  });

  it('nobody is dragged past the ball or off the field', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.boolean(),
        (x, y, free) => {
          const here = around({ free });
          const { edit } = release(here, move([x, y], here, under(press(spot(h), here, null))));
          if (edit?.do !== 'movePlayers') return;
          for (const { at } of edit.moves) {
            expect(at[1]).toBeLessThanOrEqual(0);
            expect(Math.abs(at[0])).toBeLessThanOrEqual(halfWidth + 0.01);
          }
        },
      ),
    );
  });

  it('does not take hold of a man who is not his to move', () => {
    const here = around({ mayEdit: (id) => id !== lt });
    expect(press(spot(lt), here, null)).toMatchObject({ gesture: null, select: [lt] });
  });

  it('takes the nearest of two men who stand closer than a finger is wide', () => {
    const here = around({ reach: 2.5 });
    const towardTackle: Point = plus(spot(lt), 0.3, 0);
    expect(press(towardTackle, here, null).select).toEqual([lt]);
  });
});

describe('selecting', () => {
  it('a box takes who is in it, shift keeps who was selected', () => {
    const here = around({ selected: [lt], adding: true });
    const begun = press([spot(h)[0] - 2, -4], here, null);
    const box = move([spot(z)[0] + 2, 1], here, under(begun));
    expect(release(here, box).select).toEqual(expect.arrayContaining([lt, h, z]));
  });

  it('shift takes a man out again', () => {
    const here = around({ selected: [h, z], adding: true });
    expect(press(spot(h), here, null).select).toEqual([z]);
  });

  it('a line belongs to its man', () => {
    const routed: Play = {
      ...play,
      routes: {
        [h]: {
          release: { side: 'free', hesitate: 0 },
          stem: [[0, 8]],
          finish: [],
          shape: 'sharp',
          name: '',
        },
      },
    };
    const here = around({ play: routed });
    expect(press(plus(spot(h), 0.1, 5), here, null).select).toEqual([h]);
  });
});

describe('drawing a route', () => {
  const drawn = (points: readonly Point[]) => {
    const here = around({ tool: 'route', free: true });
    let gesture = under(press(spot(h), here, null));
    for (const point of points) gesture = under(press(point, here, move(point, here, gesture)));
    return finish(here, gesture);
  };

  it('breaks at its last corner and gives the hand back', () => {
    const outcome = drawn([plus(spot(h), 0, 7), plus(spot(h), 5, 8)]);
    expect(outcome).toMatchObject({
      gesture: null,
      tool: 'select',
      edit: { do: 'setRoute', player: h, route: { stem: [[0, 7]], finish: [[5, 8]] } },
    });
  });

  it('a double click does not put the last point down twice', () => {
    const end = plus(spot(h), 5, 8);
    expect(drawn([plus(spot(h), 0, 7), end, end]).edit).toMatchObject({
      route: { stem: [[0, 7]], finish: [[5, 8]] },
    });
  });

  it('without a point there is no route', () => {
    expect(drawn([]).edit).toBeNull();
  });

  it('shows the line before it is written', () => {
    const here = around({ tool: 'route', free: true });
    const gesture = move(plus(spot(h), 0, 6), here, under(press(spot(h), here, null)));
    expect(preview(play, gesture).play.routes[h]?.stem).toEqual([[0, 6]]);
    expect(play.routes[h]).toBeUndefined();
  });
});

describe('bending a route', () => {
  const routed: Play = {
    ...play,
    routes: {
      [h]: {
        release: { side: 'inside', hesitate: 0.3 },
        stem: [[0, 6]],
        finish: [[6, 6]],
        shape: 'rounded',
        name: 'out',
      },
    },
  };
  const here = around({ play: routed, selected: [h], free: true });

  it('moves a point, and keeps break, release, shape and name', () => {
    const begun = press(plus(spot(h), 6, 6), here, null);
    const { edit } = release(here, move(plus(spot(h), 7, 8), here, under(begun)));
    expect(edit).toEqual({
      do: 'setRoute',
      player: h,
      route: { ...routed.routes[h], finish: [[7, 8]] },
    });
  });

  it('pulling a stretch makes a point on its side of the break', () => {
    const begun = press(plus(spot(h), 0, 3), here, null);
    const { edit } = release(here, move(plus(spot(h), 1, 3), here, under(begun)));
    expect(edit).toMatchObject({
      route: {
        stem: [
          [1, 3],
          [0, 6],
        ],
        finish: [[6, 6]],
      },
    });
  });
});
