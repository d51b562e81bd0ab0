import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import type { SamePage } from '@stemline/read-rules/same-page/same-page';
import { useDeferredValue, useEffect, useRef, useState } from 'react';
import { useCheckFailed, useRuleCheck } from '../rule-check/rule-check-context.tsx';

/** A table that changed more often under a hand could not be read, milliseconds. */
const restMs = 250;

export interface WorkedPage {
  /** The last table there was; null until the first. */
  page: SamePage | null;
  /** An edit is not in it yet. */
  working: boolean;
  /** The worker has failed; the table stays as it was. */
  failed: boolean;
}

/** The table of a play, worked out beside the page so that the board stays under the hand. */
export function useSamePage(play: RuledPlay): WorkedPage {
  const { worker, shelf } = useRuleCheck();
  const failed = useCheckFailed();
  const [worked, setWorked] = useState<{ page: SamePage; of: RuledPlay } | null>(null);
  useEffect(() => {
    worker.onPage = (page, wanted) => setWorked({ page, of: wanted.play });
    return () => {
      worker.onPage = () => {};
    };
  }, [worker]);
  const asked = useRef(Number.NEGATIVE_INFINITY);
  useEffect(() => {
    const ask = (): void => {
      asked.current = performance.now();
      worker.page({ play, looks: shelf.looks });
    };
    const later = setTimeout(ask, Math.max(0, asked.current + restMs - performance.now()));
    return () => clearTimeout(later);
  }, [worker, play, shelf.looks]);
  // A whole table is long: it is drawn when the hand leaves time for it.
  const shown = useDeferredValue(worked);
  return { page: shown?.page ?? null, working: shown?.of !== play, failed };
}
