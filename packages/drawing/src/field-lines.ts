import { type Field, fieldOf, halfWidth } from '@stemline/football/field';
import type { Point } from '@stemline/football/geometry';
import type { Situation } from '@stemline/football/play';
import type { Primitive, View } from './scene.ts';

const endZoneDepth = 10;
const fieldLength = 100;

/** What is printed on the field at this many yards from the goal attacked; null off the field of play. */
export function yardNumber(toGoal: number): number | null {
  if (toGoal <= 0 || toGoal >= fieldLength) return null;
  return toGoal <= 50 ? toGoal : fieldLength - toGoal;
}

/** Whole y in the view at which `toGoal - y` is a multiple of `every`, within the field of play. */
function linesEvery(every: number, situation: Situation, view: View): number[] {
  const ys: number[] = [];
  const first = Math.max(Math.ceil(view.bottom), situation.toGoal - fieldLength + 1);
  const last = Math.min(Math.floor(view.bottom + view.height), situation.toGoal - 1);
  for (let y = first; y <= last; y++) if ((situation.toGoal - y) % every === 0) ys.push(y);
  return ys;
}

const across = (y: number, half: number): readonly [Point, Point] => [
  [-half, y],
  [half, y],
];
const tick = (x: number, y: number, half: number): readonly [Point, Point] => [
  [x - half, y],
  [x + half, y],
];

/** The digits stand across their yard line, read from the nearer sideline. */
function numbers(situation: Situation, view: View, field: Field): Primitive[] {
  const { top, bottom } = field.numbers;
  const centre = halfWidth - (top + bottom) / 2;
  const size = top - bottom;
  return linesEvery(10, situation, view).flatMap((y) => {
    const number = yardNumber(situation.toGoal - y);
    return [-1, 1].map(
      (side): Primitive => ({
        kind: 'text',
        at: [side * centre, y],
        text: number === null ? '' : String(number).split('').join('\u2009'),
        size,
        turn: side < 0 ? 90 : -90,
        anchor: 'middle',
        role: 'fieldNumber',
      }),
    );
  });
}

/** Every other ten yards a shade darker, so that the eye counts depth without the numbers. */
function bands(situation: Situation, view: View, half: number): Primitive[] {
  const top = view.bottom + view.height;
  return linesEvery(10, situation, { ...view, bottom: view.bottom - 10, height: view.height + 10 })
    .filter((y) => (situation.toGoal - y) % 20 === 0)
    .map((y): [number, number] => [Math.max(y, view.bottom), Math.min(y + 10, top)])
    .filter(([from, to]) => to > from)
    .map(([from, to]) => ({
      kind: 'rect',
      view: { left: -half, bottom: from, width: half * 2, height: to - from },
      role: 'band',
    }));
}

function endZones(situation: Situation, view: View, half: number): Primitive[] {
  const top = view.bottom + view.height;
  const zones: readonly [number, number][] = [
    [situation.toGoal, situation.toGoal + endZoneDepth],
    [situation.toGoal - fieldLength - endZoneDepth, situation.toGoal - fieldLength],
  ];
  return zones
    .map(([from, to]): [number, number] => [Math.max(from, view.bottom), Math.min(to, top)])
    .filter(([from, to]) => to > from)
    .map(([from, to]) => ({
      kind: 'rect',
      view: { left: -half, bottom: from, width: half * 2, height: to - from },
      role: 'endZone',
    }));
}

/** The field under a play, as far as the view shows it: lines, hash marks and numbers of the code. */
export function fieldLines(situation: Situation, view: View): Primitive[] {
  const field = fieldOf(situation.code);
  const half = halfWidth;
  const top = view.bottom + view.height;
  const inView = (y: number): boolean => y >= view.bottom && y <= top;
  const { toGoal, toGain } = situation;
  const yards = linesEvery(1, situation, view);
  const bottom = Math.max(view.bottom, toGoal - fieldLength - endZoneDepth);
  const end = Math.min(top, toGoal + endZoneDepth);
  const items: Primitive[] = [
    { kind: 'rect', view, role: 'out' },
    {
      kind: 'rect',
      view: { left: -half, bottom, width: half * 2, height: end - bottom },
      role: 'field',
    },
    ...bands(situation, view, half),
    ...endZones(situation, view, half),
    {
      kind: 'marks',
      marks: linesEvery(5, situation, view).map((y) => across(y, half)),
      role: 'yardLine',
    },
    {
      kind: 'marks',
      marks: yards.flatMap((y) =>
        [-half + 0.5, -field.hash, field.hash, half - 0.5].map((x) => tick(x, y, 0.33)),
      ),
      role: 'hash',
    },
    ...numbers(situation, view, field),
    {
      kind: 'marks',
      marks: [-half, half].map((x) => [
        [x, bottom],
        [x, end],
      ]),
      role: 'sideline',
    },
    {
      kind: 'marks',
      marks: [toGoal, toGoal - fieldLength].filter(inView).map((y) => across(y, half)),
      role: 'goalLine',
    },
    {
      kind: 'marks',
      marks: [toGoal + endZoneDepth].filter(inView).map((y) => across(y, half)),
      role: 'sideline',
    },
    { kind: 'marks', marks: inView(0) ? [across(0, half)] : [], role: 'scrimmage' },
    {
      kind: 'marks',
      marks: toGain < toGoal && inView(toGain) ? [across(toGain, half)] : [],
      role: 'lineToGain',
    },
  ];
  return items.filter((item) => item.kind !== 'marks' || item.marks.length > 0);
}
