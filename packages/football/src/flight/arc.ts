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
 * integrands are analytic, so the error falls geometrically with the distance of the nearest
 * singularity (Trefethen, Approximation Theory and Approximation Practice, th. 19.3): below 10⁻¹⁰ yd
 * for the standard ball, below 10⁻⁶ yd at the corner of `throwSchema` (the lightest ball, thrice the
 * drag, 72 mph); `flight-path.test.ts` holds both against an independent integrator.
 */
export interface Arc extends Air {
  /** tan of the launch angle. */
  readonly slope: number;
  /** asinh of it. */
  readonly start: number;
  /** 1/u² at the launch, s²/length². Positive. */
  readonly launch: number;
  /** The constant of the hodograph, s²/length². */
  readonly constant: number;
}

/** The arc with a launch slope and 1/v² at the launch. */
export function arcOf(air: Air, inverseSpeedSquare: number, slope: number): Arc {
  const { gravity, drag } = air;
  const secantSquare = 1 + slope * slope;
  const start = Math.asinh(slope);
  const launch = secantSquare * inverseSpeedSquare;
  const constant = launch + (drag / gravity) * (slope * Math.sqrt(secantSquare) + start);
  return { gravity, drag, slope, start, launch, constant };
}

/** What has been flown between the launch and a later, lesser slope. */
export interface Flown {
  readonly slope: number;
  /** Seconds. */
  readonly time: number;
  /** Along the ground, from the launch. */
  readonly distance: number;
  /** Above the launch. */
  readonly rise: number;
  /** 1/u² there, s²/length². */
  readonly inverseSquare: number;
  /** ∫u⁴·(p − slope)dp, of which the derivatives after the launch are made. */
  readonly leverage: number;
}

/** Nodes and weights on [0, 1] of the eight, which lie in pairs about the middle of [−1, 1]. */
const nodes = [0.18343464249564978, 0.525532409916329, 0.7966664774136267, 0.9602898564975363];
const weights = [0.362683783378362, 0.31370664587788727, 0.22238103445337448, 0.10122853629037626];
const panelWidth = 0.6;

export function fly(arc: Arc, slope: number): Flown {
  const { gravity, constant } = arc;
  const drag = arc.drag / gravity;
  const end = Math.asinh(slope);
  const panels = Math.max(1, Math.ceil((arc.start - end) / panelWidth));
  const half = (arc.start - end) / (2 * panels);
  let time = 0;
  let distance = 0;
  let rise = 0;
  let leverage = 0;
  for (let panel = 0; panel < panels; panel++) {
    const middle = end + (2 * panel + 1) * half;
    const atMiddle = Math.exp(middle);
    for (let node = 0; node < 4; node++) {
      const weight = weights[node] as number;
      const off = half * (nodes[node] as number);
      const factor = Math.exp(off);
      for (let side = -1; side <= 1; side += 2) {
        const e = side < 0 ? atMiddle / factor : atMiddle * factor;
        const back = 1 / e;
        const p = (e - back) / 2;
        const secant = (e + back) / 2;
        const square = 1 / (constant - drag * (p * secant + middle + side * off));
        const part = weight * secant;
        const stretch = part * square;
        time += part * Math.sqrt(square);
        distance += stretch;
        rise += stretch * p;
        leverage += stretch * square * (p - slope);
      }
    }
  }
  const scale = half / gravity;
  return {
    slope,
    time: time * scale,
    distance: distance * scale,
    rise: rise * scale,
    inverseSquare: constant - drag * (slope * Math.sqrt(1 + slope * slope) + end),
    leverage: leverage * half,
  };
}

/**
 * How fast the height at a fixed distance grows with the launch slope, the speed kept. Divided by
 * minus the slope there it is how fast the distance at a fixed height grows.
 */
export function risePerSlope(arc: Arc, flown: Flown): number {
  const secantSquare = 1 + arc.slope * arc.slope;
  const bend =
    (2 * arc.slope * arc.launch) / secantSquare +
    ((2 * arc.drag) / arc.gravity) * Math.sqrt(secantSquare);
  return ((arc.slope - flown.slope) / arc.launch - bend * flown.leverage) / arc.gravity;
}

/** How fast the height at a fixed distance falls with 1/v² at the launch, the slope kept. */
export const fallPerInverseSquare = (arc: Arc, flown: Flown): number =>
  ((1 + arc.slope * arc.slope) * flown.leverage) / arc.gravity;

/** The slope, to second order, `further` along the ground: dp/dx = −g/u². */
export const slopeFurther = (arc: Arc, flown: Flown, further: number): number =>
  flown.slope - arc.gravity * flown.inverseSquare * further;

/** The height above the launch, to third order, `further` along the ground. */
export const riseFurther = (arc: Arc, flown: Flown, further: number): number =>
  flown.rise + further * (flown.slope - (arc.gravity * flown.inverseSquare * further) / 2);
