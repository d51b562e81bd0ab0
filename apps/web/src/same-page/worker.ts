import type { LookRecipe } from '@stemline/football/shelf';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { type SamePage, samePage } from '@stemline/read-rules/same-page/same-page';

/** The table to work out; `id` comes back with it. */
export interface Wanted {
  id: number;
  play: RuledPlay;
  shelf: readonly LookRecipe[];
}
export interface WorkedOut {
  id: number;
  page: SamePage;
}

/** A worker's own end; the DOM's types know only a window's. */
interface WorkerEnd {
  onmessage: ((event: MessageEvent<Wanted>) => void) | null;
  postMessage(message: WorkedOut): void;
}
const end = self as unknown as WorkerEnd;

end.onmessage = ({ data: { id, play, shelf } }) =>
  end.postMessage({ id, page: samePage(play, shelf) });
