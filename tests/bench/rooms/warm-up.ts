import type { Home } from './home.ts';
import type { Side } from './sides.ts';
import { type Pace, steadyRun } from './steady.ts';

/** As much as a busy hour: a quiet load would leave V8 compiling through the whole measurement. */
const busy: Pace = {
  rooms: 24,
  perRoom: 6,
  editsPerSecond: 4,
  presencePerSecond: 5,
  warmMs: 1500,
  measureMs: 60_000,
};

/** What a server costs that has run for a while, as servers do, is measured; each side gets the same before it. */
export async function warmUp(home: Home, sides: readonly Side[]): Promise<void> {
  for (const side of sides) await steadyRun(home, side, busy);
}
