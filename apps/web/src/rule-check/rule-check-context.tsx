import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import {
  createContext,
  type ReactNode,
  useContext,
  useEffect,
  useLayoutEffect,
  useMemo,
  useState,
  useSyncExternalStore,
} from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { unsavedOf } from '../live/connection.ts';
import { useConnection, useFindings, usePlay } from '../live/hooks.ts';
import type { Standing } from '../looks/standing.ts';
import { type Shelf, useShelf } from '../looks/use-shelf.ts';
import { LiveCheck, type LiveCheckState } from './live-check.ts';
import { RuleWorker } from './rule-worker.ts';
import type { ShownFinding } from './shown-finding.ts';

interface OwnCheck {
  worker: RuleWorker;
  check: LiveCheck;
}
interface RuleCheckValue extends OwnCheck {
  shelf: Shelf;
}
const RuleCheckContext = createContext<RuleCheckValue | null>(null);

function startOwnCheck(): OwnCheck {
  const worker = new RuleWorker(
    new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }),
  );
  return { worker, check: new LiveCheck(worker) };
}

/** Tells the check what it needs to know of the board, and the browser's own tools how late it was. */
function Feed({ check, shelf }: { check: LiveCheck; shelf: Shelf }) {
  const play = usePlay();
  const [{ defence }] = useBoardUi();
  const room = useFindings();
  const unsaved = unsavedOf(useConnection());
  const looks = shelf.borrowed ? null : shelf.looks;
  useLayoutEffect(
    () => check.know({ play, looks, defence, room, unsaved }),
    [check, play, looks, defence, room, unsaved],
  );
  const { follows } = useSyncExternalStore(check.subscribe, check.state);
  useLayoutEffect(() => {
    if (follows === null) return;
    performance.measure(followedMeasure, { start: follows, end: performance.now() });
    // Whoever observes has it; kept, there would be one more with every frame of every drag.
    performance.clearMeasures(followedMeasure);
  }, [follows]);
  return null;
}

/** From a movement of the hand to findings on the page that follow it. */
const followedMeasure = 'rule check followed the hand';

/** The page's own rule check, for everything below it. */
export function RuleCheckProvider({ staffId, children }: { staffId: string; children: ReactNode }) {
  const shelf = useShelf(staffId);
  const [own, setOwn] = useState<OwnCheck | null>(null);
  useEffect(() => {
    const started = startOwnCheck();
    setOwn(started);
    return () => {
      started.check.end();
      setOwn(null);
    };
  }, []);
  const value = useMemo(() => own && { ...own, shelf }, [own, shelf]);
  return (
    value && (
      <RuleCheckContext value={value}>
        <Feed check={value.check} shelf={shelf} />
        {children}
      </RuleCheckContext>
    )
  );
}

export function useRuleCheck(): RuleCheckValue {
  const value = useContext(RuleCheckContext);
  if (!value) throw new Error('A board is needed here.');
  return value;
}

function useCheckState<Part>(part: (state: LiveCheckState) => Part): Part {
  const { check } = useRuleCheck();
  return useSyncExternalStore(check.subscribe, () => part(check.state()));
}

/** The findings as this page shows them. */
export const useShownFindings = (): readonly ShownFinding[] =>
  useCheckState(({ findings }) => findings);

/** What stands against the play under the hand; null when no hand is on it. */
export const useStandingUnderHand = (): Standing | null =>
  useCheckState(({ standing }) => standing);

/** The play under the hand, or as it is written. */
export function useShownPlay(): RuledPlay {
  const play = usePlay();
  return useCheckState(({ underHand }) => underHand) ?? play;
}

export const useCheckFailed = (): boolean => useCheckState(({ failed }) => failed);
