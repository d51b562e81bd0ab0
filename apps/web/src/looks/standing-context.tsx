import { createContext, type ReactNode, useContext, useMemo } from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { usePlay } from '../live/hooks.ts';
import { useRuleCheck, useStandingUnderHand } from '../rule-check/rule-check-context.tsx';
import { type Standing, standingOf } from './standing.ts';
import type { Shelf } from './use-shelf.ts';

interface OnTheBoard {
  shelf: Shelf;
  standing: Standing | null;
}
const StandingContext = createContext<OnTheBoard | null>(null);

/** Reckons once, for board, cards and findings alike, what stands against the play. */
export function StandingProvider({ children }: { children: ReactNode }) {
  const { shelf } = useRuleCheck();
  const play = usePlay();
  const [{ defence }] = useBoardUi();
  const written = useMemo(
    () => standingOf(play, defence, shelf.looks),
    [play, defence, shelf.looks],
  );
  // A play under the hand is reckoned in the worker: the page only draws.
  const standing = useStandingUnderHand() ?? written;
  const value = useMemo(() => ({ shelf, standing }), [shelf, standing]);
  return <StandingContext value={value}>{children}</StandingContext>;
}

export function useOnTheBoard(): OnTheBoard {
  const value = useContext(StandingContext);
  if (!value) throw new Error('A board is needed here.');
  return value;
}
