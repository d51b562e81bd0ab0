import { playersOf } from '@stemline/football/formation';
import { playerIdSchema } from '@stemline/football/ids';
import type { Play, Situation } from '@stemline/football/play';
import { describe, expect, it } from 'vitest';
import { describePlayer } from '../describe-player.ts';
import { commandOf } from '../keyboard.ts';
import { breakHere, handlesOf, removePoint } from './bend-path.ts';
import { beginDrag, endDrag, moveDrag, movesOf } from './drag-players.ts';
import {
  beginPath,
  dropPoint,
  endPath,
  hoverPath,
  liftPoint,
  steerPath,
  withLastPoint,
} from './draw-path.ts';
import { mirrorEdits } from './mirror.ts';
import { nudge } from './nudge.ts';
import { endingOf, withEnding } from './path.ts';
import { linesForPlayers } from './snap.ts';

const situation: Situation = { code: 'college', spot: 'left', toGoal: 60, down: 1, toGain: 10 };
const h = playerIdSchema.parse('h');
const play: Play = {
  name: 'Ledger',
  concept: '',
  situation,
  players: playersOf('doubles', { strength: 'right', situation }),
  routes: {
    [h]: {
      release: { side: 'free', hesitate: 0 },
      stem: [
        [0, 4],
        [1, 7],
      ],
      finish: [[7, 8]],
      shape: 'sharp',
      name: 'choice',
    },
  },
  motions: { [h]: { path: [[-4, -1]], atSnap: 'moving' } },
};
const route = play.routes[h];
if (!route) throw new Error('the route is there');

describe('points of a route', () => {
  const points = handlesOf(play, h, 'route').filter(({ kind }) => kind === 'point');
  it('lie where motion has taken him, with the break marked', () => {
    expect(points).toHaveLength(3);
    expect(points.map((point) => point.kind === 'point' && point.isBreak)).toEqual([
      false,
      true,
      false,
    ]);
  });
  it('one taken out leaves the break where it was', () => {
    const first = points[0];
    expect(first && removePoint(play, first)).toMatchObject({
      route: { stem: [[1, 7]], finish: [[7, 8]] },
    });
  });
  it('another one can be the break', () => {
    const first = points[0];
    expect(first && breakHere(play, first)).toMatchObject({
      route: {
        stem: [[0, 4]],
        finish: [
          [1, 7],
          [7, 8],
        ],
      },
    });
  });
  it('the last one takes the line with it', () => {
    const motion = handlesOf(play, h, 'motion').find(({ kind }) => kind === 'point');
    expect(motion && removePoint(play, motion)).toEqual({ do: 'clearMotion', player: h });
  });
});

describe('how a route ends', () => {
  it('settles and runs on again along the same line', () => {
    const settled = withEnding(route, 'settle');
    expect(settled).toMatchObject({ finish: [] });
    expect(withEnding(settled, 'on')).toEqual(route);
  });
  it('of a single stretch he runs on, can be told to stop, and runs on again', () => {
    const straight = { ...route, stem: [[0, 12]] as const, finish: [] };
    expect(endingOf(straight)).toBe('on');
    const stopped = withEnding(straight, 'settle');
    expect(endingOf(stopped)).toBe('settle');
    expect(withEnding(stopped, 'on')).toEqual(straight);
  });
  it('what turns back at its end stays a stop', () => {
    const hitch = { ...route, stem: [[0, 6]] as const, finish: [[1, 5]] as const };
    expect(endingOf(withEnding(hitch, 'on'))).toBe('settle');
  });
  it('taking out the last point does not make a stop of what ran on', () => {
    const last = handlesOf(play, h, 'route').find(
      (handle) => handle.kind === 'point' && handle.index === 2,
    );
    expect(last && removePoint(play, last)).toMatchObject({
      route: { stem: [[0, 4]], finish: [[1, 7]] },
    });
  });
});

describe('several men under the hand', () => {
  const free = { slack: 0.1, reach: 0.5, free: true };
  const [first, second] = play.players.filter(({ at }) => at[1] < -0.5).map(({ id }) => id);
  if (!first || !second) throw new Error('two men are off the line');
  const placeOf = (id: typeof h): readonly [number, number] =>
    play.players.find((player) => player.id === id)?.at ?? [0, 0];

  it('are all shown on their way, where letting go would leave them', () => {
    const from = placeOf(first);
    const drag = moveDrag(
      beginDrag([first, second], first, from),
      play,
      [from[0] + 1, from[1] - 2],
      free,
    );
    const moves = movesOf(drag, play);
    expect(moves).toHaveLength(2);
    for (const { player, at } of moves) {
      expect(at[0]).toBeCloseTo(placeOf(player)[0] + 1, 1);
      expect(at[1]).toBeCloseTo(placeOf(player)[1] - 2, 1);
    }
    expect(endDrag(drag, play)).toEqual({ do: 'movePlayers', moves });
  });

  it('are not shown on a way before the hand has moved', () => {
    expect(movesOf(beginDrag([first, second], first, placeOf(first)), play)).toEqual([]);
  });
});

describe('keys', () => {
  const key = (name: string, more: Partial<Parameters<typeof commandOf>[0]> = {}) =>
    commandOf({ key: name, shift: false, alt: false, command: false, ...more }, false);
  it('arrows nudge half a yard, with shift a yard, with alt a tenth', () => {
    expect(key('ArrowUp')).toEqual({ kind: 'nudge', by: [0, 0.5] });
    expect(key('ArrowLeft', { shift: true })).toEqual({ kind: 'nudge', by: [-1, 0] });
    expect(key('ArrowRight', { alt: true })).toEqual({ kind: 'nudge', by: [0.1, 0] });
  });
  it('leaves the browser what is its own', () => {
    for (const name of ['Tab', 'F5', 'x']) expect(key(name)).toBeNull();
    expect(key('r', { command: true })).toBeNull();
  });
  it('takes back and does again', () => {
    expect(key('z', { command: true })).toEqual({ kind: 'undo' });
    expect(key('Z', { command: true, shift: true })).toEqual({ kind: 'redo' });
  });
  it('a nudge stays behind the ball', () => {
    const edit = nudge(play, [h], [0, 20]);
    expect(edit).toMatchObject({ moves: [{ at: [expect.any(Number), 0] }] });
  });
  it('draws a whole route without a mouse', () => {
    let path = beginPath(play, h, 'route');
    if (!path) throw new Error('he is on the field');
    path = dropPoint(steerPath(path, [0, 5]));
    path = dropPoint(steerPath(path, [3, 1]));
    expect(endPath(path, play)).toMatchObject({ route: { stem: [[0, 5]], finish: [[3, 6]] } });
    expect(endPath(liftPoint(path), play)).toMatchObject({ route: { stem: [[0, 5]], finish: [] } });
  });
  it('ends a line with the point that keys have moved, and not where a mouse happens to lie', () => {
    let path = beginPath(play, h, 'route');
    if (!path) throw new Error('he is on the field');
    path = { ...dropPoint(steerPath(path, [0, 5])), next: null };
    const [x, y] = path.start;
    const steered = steerPath(path, [3, 1]);
    expect(endPath(withLastPoint(steered), play)).toMatchObject({ route: { finish: [[3, 6]] } });
    const hovered = hoverPath(steered, play, [x + 9, y + 9], { reach: 0, free: true });
    for (const as of [path, hovered])
      expect(endPath(withLastPoint(as), play)).toMatchObject({
        route: { stem: [[0, 5]], finish: [] },
      });
  });
});

describe('the mirror', () => {
  it('turns spots, routes and motions over the ball', () => {
    const ball = -20 / 3;
    const [moves, ...lines] = mirrorEdits(play);
    if (moves?.do !== 'movePlayers') throw new Error('everybody moves');
    for (const { id, at } of play.players) {
      const now = moves.moves.find(({ player }) => player === id)?.at ?? [0, 0];
      expect(now[0] - ball).toBeCloseTo(ball - at[0], 1);
      expect(now[1]).toBe(at[1]);
    }
    expect(lines).toMatchObject([
      { do: 'setRoute', player: h, route: { finish: [[-7, 8]] } },
      { do: 'setMotion', player: h, motion: { path: [[4, -1]] } },
    ]);
  });
});

describe('lines to rest on', () => {
  it('name the split between two receivers, the others, the hash and the numbers', () => {
    const names = linesForPlayers(play, new Set([h])).map(({ name }) => name);
    expect(names).toEqual(
      expect.arrayContaining([
        'in line with Z',
        'left hash',
        'right top of the numbers',
        'on the line',
      ]),
    );
    expect(names).not.toContain('in line with H');
  });
});

describe('a player in words', () => {
  it('says who, where and what he runs', () => {
    const player = play.players.find(({ id }) => id === h);
    if (!player) throw new Error('he is on the field');
    const words = describePlayer({ ...play, cards: [] }, player);
    expect(words).toMatch(
      /^H, receiver, number 11, [\d.]+ yards right of the ball, 1\.5 yards deep\./,
    );
    expect(words).toContain('Motion to');
    expect(words).toContain('Route: choice, breaks out at 4.5 yards.');
  });
});
