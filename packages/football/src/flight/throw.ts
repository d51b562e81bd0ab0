import { z } from 'zod';
import { degrees, radians } from '../units.ts';
import { type Arc, arcOf, fly } from './arc.ts';
import { type Air, airOf, ballSchema, ballValues } from './ball.ts';
import {
  type Aim,
  farthest,
  flyDownTo,
  highLaunch,
  type Launch,
  launchAtSlope,
  lowLaunch,
} from './launch.ts';

/** yd/s: 20 to 72 mph. */
const speed = z.number().min(10).max(35);

/** How the ball is thrown. */
export const deliverySchema = z.discriminatedUnion('kind', [
  /** On a line: the lower of the two arcs that reach the target at this speed. */
  z.strictObject({ kind: z.literal('drive'), speed }),
  /** Dropped in: the higher of the two. */
  z.strictObject({ kind: z.literal('touch'), speed }),
  /** Over a defender, launched at this angle (degrees), with the speed that it takes. */
  z.strictObject({ kind: z.literal('loft'), angle: z.number().min(2).max(75), maxSpeed: speed }),
]);
export type Delivery = z.infer<typeof deliverySchema>;

/** yd above the ground. */
const height = z.number().min(0).max(3.5);

export const throwSchema = z.strictObject({
  /** Along the ground from the passer to the catch, yd; not the depth of the route. */
  distance: z.number().min(0.5).max(120),
  releaseHeight: height,
  catchHeight: height,
  delivery: deliverySchema,
  ball: ballSchema,
});
export type Throw = z.infer<typeof throwSchema>;

/** A ball in the air. Yards, seconds, degrees, yd/s. */
export interface Flight {
  readonly kind: 'flight';
  /** Launch, above the level: −90 to 90. */
  readonly angle: number;
  readonly speed: number;
  /** From release to catch. Positive. */
  readonly time: number;
  readonly distance: number;
  readonly releaseHeight: number;
  readonly catchHeight: number;
  /** The highest point of the way to the catch, above the ground. */
  readonly apex: number;
  /** At the catch. */
  readonly arrivalAngle: number;
  readonly arrivalSpeed: number;
  /** What the path is computed from. */
  readonly arc: Arc;
  /** tan of the arrival angle. */
  readonly arrival: number;
}

/** No flight, and how far it would have gone. */
export type OutOfRange =
  | {
      readonly kind: 'outOfRange';
      readonly why: 'tooFar';
      /** The longest throw down to that height, yd: at the speed asked, or at the angle asked. */
      readonly farthest: number;
    }
  | {
      readonly kind: 'outOfRange';
      /** The catch lies on or above the line on which the ball is launched. */
      readonly why: 'tooFlat';
      /** The angle, degrees, that a loft has to be steeper than. */
      readonly above: number;
    };

/**
 * The throw that hits the target. Every throw that `throwSchema` takes gives a flight or says that
 * it is out of range. The target is met to 10⁻⁶ yd, by the standard ball to 10⁻⁹ yd.
 */
export function throwBall(thrown: Throw): Flight | OutOfRange {
  const air = airOf(thrown.ball);
  const aim = { distance: thrown.distance, rise: thrown.catchHeight - thrown.releaseHeight };
  const { delivery } = thrown;
  if (delivery.kind === 'loft') return loft(thrown, air, aim, delivery);
  const launch = (delivery.kind === 'drive' ? lowLaunch : highLaunch)(air, aim, delivery.speed);
  return launch
    ? flightOf(thrown, launch, delivery.speed)
    : { kind: 'outOfRange', why: 'tooFar', farthest: farthest(air, aim.rise, delivery.speed) };
}

function loft(
  thrown: Throw,
  air: Air,
  aim: Aim,
  { angle, maxSpeed }: Extract<Delivery, { kind: 'loft' }>,
): Flight | OutOfRange {
  const slope = Math.tan(radians(angle));
  if (slope * aim.distance <= aim.rise)
    return {
      kind: 'outOfRange',
      why: 'tooFlat',
      above: degrees(Math.atan2(aim.rise, aim.distance)),
    };
  const launch = launchAtSlope(air, aim, slope, maxSpeed);
  return launch
    ? flightOf(thrown, launch, 1 / Math.sqrt(launch.arc.launch / (1 + slope * slope)))
    : {
        kind: 'outOfRange',
        why: 'tooFar',
        farthest: flyDownTo(arcOf(air, 1 / maxSpeed ** 2, slope), aim.rise)?.distance ?? 0,
      };
}

function flightOf(thrown: Throw, { arc, flown }: Launch, speed: number): Flight {
  const climbs = arc.slope > 0 ? fly(arc, Math.max(0, flown.slope)).rise : 0;
  return {
    kind: 'flight',
    angle: degrees(Math.atan(arc.slope)),
    speed,
    time: flown.time,
    distance: thrown.distance,
    releaseHeight: thrown.releaseHeight,
    catchHeight: thrown.catchHeight,
    apex: thrown.releaseHeight + climbs,
    arrivalAngle: degrees(Math.atan(flown.slope)),
    arrivalSpeed: Math.sqrt((1 + flown.slope ** 2) / flown.inverseSquare),
    arc,
    arrival: flown.slope,
  };
}

/** The same throw with the least and the greatest drag of the published band. */
export function dragBand(thrown: Throw): readonly [Flight | OutOfRange, Flight | OutOfRange] {
  const { from, to } = ballValues.dragCoefficient;
  const at = (dragCoefficient: number) =>
    throwBall({ ...thrown, ball: { ...thrown.ball, dragCoefficient } });
  return [at(from), at(to)];
}
