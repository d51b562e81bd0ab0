import type { LookRecipe } from '@stemline/football/shelf';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { SamePage } from '@stemline/read-rules/same-page/same-page';
import { useEffect, useRef, useState } from 'react';
import type { Wanted, WorkedOut } from './worker.ts';

export interface WorkedPage {
  /** The last table there was; null until the first. */
  page: SamePage | null;
  /** An edit is not in it yet. */
  working: boolean;
  /** The worker has failed; the table stays as it was. */
  failed: boolean;
}

/** The table of a play, worked out beside the page so that the board stays under the hand. */
export function useSamePage(play: RuledPlay, shelf: readonly LookRecipe[]): WorkedPage {
  const worker = useRef<Worker | null>(null);
  const asked = useRef(0);
  const [worked, setWorked] = useState<WorkedOut | null>(null);
  const [wanted, setWanted] = useState(0);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    const made = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' });
    made.onmessage = ({ data }: MessageEvent<WorkedOut>) => setWorked(data);
    made.onerror = () => setFailed(true);
    worker.current = made;
    return () => {
      made.terminate();
      worker.current = null;
    };
  }, []);
  useEffect(() => {
    asked.current += 1;
    const message: Wanted = { id: asked.current, play, shelf };
    setWanted(asked.current);
    worker.current?.postMessage(message);
  }, [play, shelf]);
  return { page: worked?.page ?? null, working: worked?.id !== wanted, failed };
}
