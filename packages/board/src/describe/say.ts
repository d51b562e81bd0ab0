import type { Point } from '@stemline/football/geometry';

/** A number as a coach writes it: at most one decimal, none for a whole one. */
export const short = (n: number): string => String(Math.round(n * 10) / 10 + 0);
export const yd = (n: number): string => `${short(n)} yd`;
/** "5–6 yd", or "5 yd" where both ends are one. */
export const span = (from: number, to: number): string =>
  short(from) === short(to) ? yd(from) : `${short(from)}–${yd(to)}`;
export const named = (text: string): string => (text === '' ? 'none' : `“${text}”`);

export const list = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

export const count = (n: number, one: string, many = `${one}s`): string =>
  `${n} ${n === 1 ? one : many}`;

/** `subject` now reads `after` (was `before`); nothing where both read the same. */
export function nowWas(subject: string, before: string, after: string): string[] {
  return before === after ? [] : [`${subject} ${after} (was ${before})`];
}

/** Which way a player went: "2 yd toward the ball and 1 yd back"; empty for less than can be seen. */
export function wayMoved(from: Point, to: Point, ballX: number): string {
  const before = from[0] - ballX;
  const after = to[0] - ballX;
  const deep = to[1] - from[1];
  const words: string[] = [];
  if (before * after < 0) {
    words.push(
      `across the ball to the ${after < 0 ? 'left' : 'right'}, ${yd(Math.abs(after))} from it`,
    );
  } else {
    const wide = Math.abs(after) - Math.abs(before);
    if (short(wide) !== '0')
      words.push(`${yd(Math.abs(wide))} ${wide < 0 ? 'toward' : 'away from'} the ball`);
  }
  if (short(deep) !== '0') words.push(`${yd(Math.abs(deep))} ${deep < 0 ? 'back' : 'up'}`);
  return list(words);
}
