/** One measured value. `goal` is null where nothing is asked of it; `ok` says whether the goal is met. */
export interface Figure {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly goal: number | null;
  readonly better: 'lower' | 'higher';
  readonly ok: boolean;
}

export const lower = (
  name: string,
  value: number,
  unit: string,
  goal: number | null = null,
): Figure => ({ name, value, unit, goal, better: 'lower', ok: goal === null || value <= goal });

export const higher = (
  name: string,
  value: number,
  unit: string,
  goal: number | null = null,
): Figure => ({ name, value, unit, goal, better: 'higher', ok: goal === null || value >= goal });

const short = (value: number): string =>
  Number.isInteger(value) ? String(value) : value.toPrecision(4);

/** A table for people. */
export function printFigures(figures: readonly Figure[]): void {
  const width = Math.max(...figures.map(({ name }) => name.length));
  for (const { name, value, unit, goal, better, ok } of figures) {
    const asked = goal === null ? '' : `${better === 'lower' ? '≤' : '≥'} ${short(goal)}`;
    const met = goal === null ? '' : ok ? 'met' : 'MISSED';
    console.log(
      [name.padEnd(width), short(value).padStart(10), unit.padEnd(14), asked.padEnd(12), met]
        .join('  ')
        .trimEnd(),
    );
  }
}
