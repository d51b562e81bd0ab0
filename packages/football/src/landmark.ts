import { ballX, fieldOf, halfWidth } from './field.ts';
import type { Play } from './play.ts';
import type { RuleCode } from './rulecode.ts';

/** A line on the field that a coach names and a drawing snaps to; `at` in yards along its axis. */
export interface Landmark {
  readonly axis: 'x' | 'y';
  readonly at: number;
  readonly name: string;
}

/** Every named line of this field and play: across it first, then up it. */
export function landmarks(code: RuleCode, play: Pick<Play, 'situation'>): readonly Landmark[] {
  const { hash, numbers } = fieldOf(code);
  const { spot, toGoal } = play.situation;
  const across: Landmark[] = [
    { axis: 'x', at: 0, name: 'middle of the field' },
    { axis: 'x', at: ballX({ code, spot }), name: 'ball' },
    ...bothSides('hash', hash),
    ...bothSides('top of the numbers', halfWidth - numbers.top),
    ...bothSides('bottom of the numbers', halfWidth - numbers.bottom),
    ...bothSides('sideline', halfWidth),
  ];
  const up: Landmark[] = [
    { axis: 'y', at: 0, name: 'line of scrimmage' },
    ...[5, 10, 15, 20].map((at): Landmark => ({ axis: 'y', at, name: `${at} yards` })),
    { axis: 'y', at: toGoal, name: 'goal line' },
    { axis: 'y', at: toGoal + 10, name: 'end line' },
  ];
  return [...across, ...up];
}

const bothSides = (name: string, at: number): Landmark[] => [
  { axis: 'x', at: -at, name: `left ${name}` },
  { axis: 'x', at, name: `right ${name}` },
];
