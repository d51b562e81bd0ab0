import { z } from 'zod';
import { provenanceSchema, type Sourced } from '../sourced.ts';

const band = (least: number, most: number) =>
  z
    .strictObject({ from: z.number().min(least).max(most), to: z.number().min(least).max(most) })
    .refine(({ from, to }) => from <= to, 'the band is upside down');

/** A passer's footwork with its timing. A staff puts in its own numbers. */
export const dropSchema = z.strictObject({
  id: z.string().regex(/^[A-Za-z0-9_-]{1,40}$/, 'an id is 1 to 40 letters, digits, - or _'),
  name: z.string().trim().min(1).max(40),
  snap: z.enum(['underCentre', 'shotgun']),
  /** Where he throws from, yards behind the line. */
  depth: band(0, 15),
  /** How far to the side of where he took the snap he throws from, yards; 0 for a drop straight back. */
  width: band(0, 15),
  /** The ball leaves his hand, seconds from the snap. */
  ballOut: band(0.3, 6),
  /** Depths of the routes that it fits, yards past the line. */
  routes: band(-5, 40),
  provenance: provenanceSchema,
  source: z.string().min(1).max(300),
});
export type Drop = z.infer<typeof dropSchema>;

const commonPractice = {
  provenance: 'commonPractice',
  source: 'Common practice, no single source',
} as const;

const straight = { from: 0, to: 0 };

const quick = { ballOut: { from: 1.3, to: 1.7 }, routes: { from: 4, to: 6 } };
const intermediate = { ballOut: { from: 2.1, to: 2.5 }, routes: { from: 10, to: 14 } };
const hitched = { ballOut: { from: 2.5, to: 2.9 }, routes: { from: 14, to: 16 } };
const deep = { ballOut: { from: 2.9, to: 3.4 }, routes: { from: 16, to: 20 } };

/** The drops most staffs teach, shortest first; every number is theirs to change. */
export const usualDrops: readonly Drop[] = [
  {
    id: 'one-step',
    name: '1-step',
    snap: 'underCentre',
    depth: { from: 2, to: 3 },
    width: straight,
    ballOut: { from: 0.8, to: 1.1 },
    routes: { from: 0, to: 2 },
    ...commonPractice,
  },
  {
    id: 'three-step',
    name: '3-step',
    snap: 'underCentre',
    depth: { from: 4, to: 5 },
    width: straight,
    ...quick,
    ...commonPractice,
  },
  {
    id: 'gun-catch-and-throw',
    name: 'Catch and throw, or 1-step',
    snap: 'shotgun',
    depth: { from: 5, to: 6 },
    width: straight,
    ...quick,
    ...commonPractice,
  },
  {
    id: 'five-step',
    name: '5-step',
    snap: 'underCentre',
    depth: { from: 7, to: 7 },
    width: straight,
    ...intermediate,
    ...commonPractice,
  },
  {
    id: 'gun-three-step',
    name: '3-step',
    snap: 'shotgun',
    depth: { from: 7, to: 8 },
    width: straight,
    ...intermediate,
    ...commonPractice,
  },
  {
    id: 'five-step-hitch',
    name: '5-step and hitch',
    snap: 'underCentre',
    depth: { from: 7, to: 8 },
    width: straight,
    ...hitched,
    ...commonPractice,
  },
  {
    id: 'gun-three-step-hitch',
    name: '3-step and hitch',
    snap: 'shotgun',
    depth: { from: 7, to: 8 },
    width: straight,
    ...hitched,
    ...commonPractice,
  },
  {
    id: 'seven-step',
    name: '7-step',
    snap: 'underCentre',
    depth: { from: 9, to: 10 },
    width: straight,
    ...deep,
    ...commonPractice,
  },
  {
    id: 'gun-five-step',
    name: '5-step',
    snap: 'shotgun',
    depth: { from: 9, to: 10 },
    width: straight,
    ...deep,
    ...commonPractice,
  },
  {
    id: 'boot',
    name: 'Play-action or boot',
    snap: 'underCentre',
    depth: { from: 8, to: 10 },
    width: { from: 6, to: 8 },
    ballOut: { from: 2.8, to: 3.5 },
    routes: { from: 12, to: 20 },
    ...commonPractice,
  },
];

/** Which of them a play is thrown off. */
export const dropIdSchema = z.enum([
  'one-step',
  'three-step',
  'gun-catch-and-throw',
  'five-step',
  'gun-three-step',
  'five-step-hitch',
  'gun-three-step-hitch',
  'seven-step',
  'gun-five-step',
  'boot',
]);
export type DropId = z.infer<typeof dropIdSchema>;

/** The drop of that name; null where none is named. */
export const dropOf = (id: DropId | undefined): Drop | null =>
  usualDrops.find((drop) => drop.id === id) ?? null;

/** "5-step from under the center": its name and how it starts. */
export const dropWords = ({ name, snap }: Drop): string =>
  `${name} from ${snap === 'shotgun' ? 'the shotgun' : 'under the center'}`;

/** From a shotgun snap to the hands. */
export const shotgunSnap: Sourced = {
  from: 0.3,
  value: 0.38,
  to: 0.45,
  unit: 's',
  provenance: 'commonPractice',
  source: '5 yd through the air; common practice, no single source',
};
