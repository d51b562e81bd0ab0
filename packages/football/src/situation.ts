import { z } from 'zod';
import type { Situation } from './play.ts';

/** Parts of the field a staff calls by. Bounds are common practice, no single source. */
export const fieldZoneSchema = z.enum(['backedUp', 'open', 'redZone', 'goalLine']);
export type FieldZone = z.infer<typeof fieldZoneSchema>;

/** The last of its own ten; the opponent's last twenty; the last five. */
export function fieldZone({ toGoal }: Pick<Situation, 'toGoal'>): FieldZone {
  if (toGoal <= 5) return 'goalLine';
  if (toGoal <= 20) return 'redZone';
  return toGoal >= 90 ? 'backedUp' : 'open';
}

/** Down and distance as a staff groups them. Bounds are common practice, no single source. */
export const downGroupSchema = z.enum(['first', 'short', 'medium', 'long']);
export type DownGroup = z.infer<typeof downGroupSchema>;

/** First down is its own group; after it, short is up to 3 yards to gain, medium up to 6. */
export function downGroup({ down, toGain }: Pick<Situation, 'down' | 'toGain'>): DownGroup {
  if (down === 1) return 'first';
  if (toGain <= 3) return 'short';
  return toGain <= 6 ? 'medium' : 'long';
}
