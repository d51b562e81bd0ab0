/** Says one sentence to whoever watches; figures go elsewhere. */
export type Say = (sentence: string) => void;

/**
 * Milliseconds that a piece of work takes where nobody else is at work: on the wall, or of CPU over all
 * threads of this process, whichever is less. Both are at least that: the wall counts whoever has the
 * core meanwhile, the CPU counts the compiler and the collector beside us.
 */
export function timed(work: () => void): number {
  const before = process.cpuUsage();
  const start = performance.now();
  work();
  const wall = performance.now() - start;
  const { user, system } = process.cpuUsage(before);
  return Math.min(wall, (user + system) / 1000);
}

/** The quickest of several runs, which a busy machine disturbs least. Milliseconds. */
export const quickest = (runs: number, work: () => void): number =>
  Math.min(...Array.from({ length: runs }, () => timed(work)));

/** The value below which this share of the times lies. */
export function quantile(times: readonly number[], share: number): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** e of the curve `cost = c · size^e` that fits best (least squares of the logarithms); 1 is linear. */
export function exponent(sizes: readonly number[], costs: readonly number[]): number {
  const xs = sizes.map(Math.log);
  const ys = costs.map(Math.log);
  const mean = (ns: readonly number[]): number => ns.reduce((a, b) => a + b, 0) / ns.length;
  const [x, y] = [mean(xs), mean(ys)];
  const along = xs.map((one) => one - x);
  const rise = along.reduce((sum, one, i) => sum + one * ((ys[i] ?? y) - y), 0);
  return rise / along.reduce((sum, one) => sum + one * one, 0);
}
