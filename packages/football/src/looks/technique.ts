import type { LineHalf } from '../offensive-line.ts';
import type { Technique } from './recipe.ts';

/** Over whom, and how far outside his nose. */
interface Over {
  readonly man: 'centre' | 'guard' | 'tackle' | 'end';
  /** Yards, + outside. */
  readonly shade: number;
}

/** Half a man: from nose to shoulder. Yards. */
const shoulder = 0.5;

/**
 * Even is head-up, odd is the outside shoulder, "i" the inside one. The commonest modern usage;
 * staffs differ. Common practice, no single source.
 */
export const techniques: Readonly<Record<Technique, Over>> = {
  '0': { man: 'centre', shade: 0 },
  '1': { man: 'centre', shade: shoulder },
  '2i': { man: 'guard', shade: -shoulder },
  '2': { man: 'guard', shade: 0 },
  '3': { man: 'guard', shade: shoulder },
  '4i': { man: 'tackle', shade: -shoulder },
  '4': { man: 'tackle', shade: 0 },
  '5': { man: 'tackle', shade: shoulder },
  '6i': { man: 'end', shade: -shoulder },
  '6': { man: 'end', shade: 0 },
  '9': { man: 'end', shade: shoulder },
  wide9: { man: 'end', shade: 1.5 },
};

/** Yards outside the ball at which a technique is played. Where no end stands, where he would stand. */
export function techniqueOffset(technique: Technique, line: LineHalf): number {
  const { man, shade } = techniques[technique];
  return (man === 'centre' ? 0 : line[man]) + shade;
}
