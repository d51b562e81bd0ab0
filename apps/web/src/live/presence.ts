import { type Presence, presenceSchema } from '@stemline/protocol/message';
import type { Awareness } from 'y-protocols/awareness';

/** What this page shows of its coach; the server adds who he is. */
export type OwnPresence = Omit<Presence, 'member'>;

/** Another page on the same board; one coach may have several. */
export interface Colleague extends Presence {
  clientId: number;
}

/** The others on the board as far as they can be read, in a steady order. */
export function colleaguesOf(awareness: Awareness): Colleague[] {
  const others: Colleague[] = [];
  for (const [clientId, state] of awareness.getStates()) {
    if (clientId === awareness.clientID) continue;
    const presence = presenceSchema.safeParse(state);
    // Anybody can write awareness; what is not a presence is nobody.
    if (presence.success) others.push({ clientId, ...presence.data });
  }
  return others.sort((a, b) => a.clientId - b.clientId);
}
