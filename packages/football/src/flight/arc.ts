import type { Air } from './ball.ts';

/**
 * A flight under gravity and quadratic drag, told by the slope of its path instead of by time.
 *
 * With p = tan of the path's angle and u the speed along the ground, the hodograph is known
 * exactly: 1/u² + (2k/g)·S(p) is constant, S(p) = ½[p√(1+p²) + asinh p] (first integral in Hackborn
 * 2006, Can. Appl. Math. Q. 14(3)). As dp/dt = −g/u, time, distance and height are plain integrals
 * over the slope. No step error builds up, and at k = 0 they are the vacuum formulas.
 *
 * They are taken by Gauss–Legendre with 8 nodes on panels of at most 0.6 in q = asinh p. The
 * integrands are analytic; for the speeds and drags of `throwSchema` the nearest singularity lies at
 * least 0.35 beyond a panel's end, so the error is below 2·10⁻¹⁰ of the result at the
 * corner of that range (Trefethen, Approximation Theory and Approximation Practice, th. 19.3) and at
 * rounding for ordinary throws.
 */
export interface Arc extends Air {
  /** tan of the launch angle. */
  readonly slope: number;
  /** 1/u² at the launch, s²/length². Positive. */
  readonly launch: number;
}

export const arcOf = (air: Air, speed: number, slope: number): Arc => ({
  gravity: air.gravity,
  drag: air.drag,
  slope,
  launch: (1 + slope * slope) / (speed * speed),
});

/** S(p). */
export const hodograph = (p: number): number => (p * Math.sqrt(1 + p * p) + Math.asinh(p)) / 2;

/** 1/u² where the path has slope `p`. */
export const inverseSquare = (arc: Arc, p: number): number =>
  arc.launch + ((2 * arc.drag) / arc.gravity) * (hodograph(arc.slope) - hodograph(p));

/** What has been flown between the launch and a later, lesser slope. */
export interface Flown {
  /** Seconds. */
  readonly time: number;
  /** Along the ground, from the launch. */
  readonly distance: number;
  /** Above the launch. */
  readonly rise: number;
  /** ∫u⁴·(p − p₁)dp, of which the derivatives after the launch are made. */
  readonly leverage: number;
}

const nodes = [
  [-0.9602898564975363, 0.10122853629037626],
  [-0.7966664774136267, 0.22238103445337448],
  [-0.525532409916329, 0.31370664587788727],
  [-0.18343464249564978, 0.362683783378362],
  [0.18343464249564978, 0.362683783378362],
  [0.525532409916329, 0.31370664587788727],
  [0.7966664774136267, 0.22238103445337448],
  [0.9602898564975363, 0.10122853629037626],
] as const;

const panelWidth = 0.6;

export function fly(arc: Arc, until: number): Flown {
  const start = Math.asinh(arc.slope);
  const end = Math.asinh(until);
  const panels = Math.max(1, Math.ceil(Math.abs(start - end) / panelWidth));
  const half = (start - end) / (2 * panels);
  const drag = (2 * arc.drag) / arc.gravity;
  const atLaunch = arc.launch + drag * hodograph(arc.slope);
  let time = 0;
  let distance = 0;
  let rise = 0;
  let leverage = 0;
  for (let panel = 0; panel < panels; panel++) {
    const middle = end + (2 * panel + 1) * half;
    for (const [place, weight] of nodes) {
      const q = middle + half * place;
      const e = Math.exp(q);
      const p = (e - 1 / e) / 2;
      const secant = (e + 1 / e) / 2;
      const square = 1 / (atLaunch - (drag * (p * secant + q)) / 2);
      const part = weight * secant;
      time += part * Math.sqrt(square);
      distance += part * square;
      rise += part * square * p;
      leverage += part * square * square * (p - until);
    }
  }
  const scale = half / arc.gravity;
  return {
    time: time * scale,
    distance: distance * scale,
    rise: rise * scale,
    leverage: leverage * half,
  };
}

/**
 * The slope with which the ball passes a distance, or null where it never gets so far (drag lets
 * every ball fall straight down in the end). Newton from the vacuum's slope: distance is a
 * decreasing, concave function of the slope and the vacuum flies farther, so it never overshoots.
 */
export function slopeAt(arc: Arc, distance: number, near?: number): number | null {
  let slope = near ?? arc.slope - arc.gravity * distance * arc.launch;
  for (let turn = 0; turn < 80; turn++) {
    const missing = distance - fly(arc, slope).distance;
    if (Math.abs(missing) <= 1e-13 * distance) return slope;
    const step = missing * arc.gravity * inverseSquare(arc, slope);
    const next = Math.min(slope - step, arc.slope);
    if (next === slope) return slope;
    if (!(next > -1e4)) return null;
    slope = next;
  }
  return slope;
}
