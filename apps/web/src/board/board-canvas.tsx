import { sceneOf, withDragged } from '@stemline/drawing/play-scene';
import { unitsPerYard, viewBox } from '@stemline/drawing/shape';
import { boxOf, viewOf } from '@stemline/drawing/view';
import type { Point } from '@stemline/football/geometry';
import { type DefenderId, type PlayerId, playerIdSchema } from '@stemline/football/ids';
import {
  type KeyboardEvent,
  type ReactNode,
  useEffect,
  useId,
  useLayoutEffect,
  useMemo,
  useRef,
} from 'react';
import { SceneGroup } from '../common/scene-group.tsx';
import { usePlay, usePresence } from '../live/hooks.ts';
import { useLive } from '../live/live-context.tsx';
import type { Colleague } from '../live/presence.ts';
import { boardBranches, optionMen } from '../looks/branch-paths.ts';
import { keyOf } from '../looks/standing.ts';
import { useOnTheBoard } from '../looks/standing-context.tsx';
import { blocksOf } from '../protection/protecting.ts';
import { useRuleCheck, useShownFindings } from '../rule-check/rule-check-context.tsx';
import { findingOf } from '../rule-check/shown-finding.ts';
import classes from './board-canvas.module.css';
import { useBoardUi } from './board-ui-context.tsx';
import { DrawingBar } from './drawing-bar.tsx';
import { leftBy, preview, shownHandles } from './gesture.ts';
import { ColleaguesLayer } from './layers/colleagues-layer.tsx';
import { GuidesLayer } from './layers/guides-layer.tsx';
import { HandlesLayer } from './layers/handles-layer.tsx';
import { PlayersLayer } from './layers/players-layer.tsx';
import { PointBar } from './point-bar.tsx';
import { useRights } from './rights.ts';
import { highlightsOf } from './scene-options.ts';
import { useBoardKeys } from './use-board-keys.ts';
import { useGestures } from './use-gestures.ts';
import { isNarrow, useWindowSize } from './use-window-size.ts';
import { filled, unitsFor } from './view-fill.ts';

/** The way of drags that colleagues have not ended; nobody's own players are moved by it. */
function theirDrags(colleagues: readonly Colleague[], mine: ReadonlyMap<PlayerId, Point>) {
  const drags = new Map<PlayerId, Point>();
  for (const { drag } of colleagues) {
    for (const { player, at } of drag ?? []) {
      const read = playerIdSchema.safeParse(player);
      if (read.success && !mine.has(read.data)) drags.set(read.data, at);
    }
  }
  return drags;
}

/** The play board: the drawing, and every way to change it by hand or by keys. */
export function BoardCanvas({
  onDefender,
  showBlocking,
  children,
}: {
  /** The board is about the protection: who blocks whom is drawn, and what players read is not. */
  showBlocking: boolean;
  /** A defender was pressed. */
  onDefender: (defender: DefenderId) => void;
  /** What stands over a corner of the drawing. */
  children?: ReactNode;
}) {
  const play = usePlay();
  const live = useLive();
  const colleagues = usePresence();
  const findings = useShownFindings();
  const { check } = useRuleCheck();
  const [ui, tell] = useBoardUi();
  const { standing } = useOnTheBoard();
  const rights = useRights();
  const window = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const size = useWindowSize(window);
  const helpId = useId();

  const view = useMemo(
    () =>
      filled(
        showBlocking && ui.cropped === null
          ? boxOf(play)
          : viewOf(play, (ui.cropped ?? isNarrow(size)) ? 'formation' : 'field'),
        size,
      ),
    [play, size, ui.cropped, showBlocking],
  );
  const px = unitsFor(1, view, size.width);
  const hand = useGestures(svg, view, rights, onDefender);
  const onKeyDown = useBoardKeys(hand, rights);

  const marked = findings.find((each) => findingOf(each).id === ui.finding);
  const finding = marked ? findingOf(marked) : null;
  const { gesture, movedAt } = hand;
  const shown = useMemo(() => preview(play, gesture), [play, gesture]);
  const left = useMemo(() => leftBy(play, gesture), [play, gesture]);
  useLayoutEffect(() => check.hold(left, movedAt.current), [check, left, movedAt]);
  useEffect(() => () => check.hold(null, 0), [check]);
  const dragging = useMemo(
    () => new Map([...theirDrags(colleagues, shown.dragging), ...shown.dragging]),
    [colleagues, shown.dragging],
  );
  const everybody = useMemo(() => play.players.map(({ id }) => id), [play.players]);
  const picked = useMemo(
    () => (ui.selected.length > 0 || ui.card === null ? ui.selected : [ui.card]),
    [ui.selected, ui.card],
  );
  const blocking = showBlocking || ui.showBlocking;
  const blocks = useMemo(
    () => (blocking ? blocksOf(play, standing) : null),
    [blocking, play, standing],
  );
  const showBranches = ui.showBranches && !showBlocking && gesture?.kind !== 'drawPath';
  const scene = useMemo(
    () =>
      sceneOf(shown.play, {
        frame: view,
        look: standing?.look ?? null,
        reactions: standing?.reactions ?? {},
        showReactions: ui.showReactions && !showBlocking ? 'all' : 'none',
        key: showBlocking ? null : keyOf(standing, ui.card ?? play.cards[0]?.player ?? null),
        highlights: highlightsOf(ui.selected, finding, everybody, null),
        paths: showBranches ? boardBranches(left ?? play, standing, picked) : [],
        stems: showBranches ? optionMen(play) : [],
        blocks,
        dragging,
        showBreaks: rights.any,
      }),
    [
      shown.play,
      view,
      standing,
      ui,
      play,
      left,
      finding,
      everybody,
      dragging,
      rights.any,
      showBranches,
      blocks,
      showBlocking,
      picked,
    ],
  );
  const moved = withDragged(shown.play, dragging);
  const spots = new Map(moved.players.map(({ id, at }) => [id, at] as const));
  const around = { ...shown, look: null, tool: ui.tool, selected: ui.selected };
  const handles =
    gesture === null || gesture.kind === 'bendPath'
      ? shownHandles({
          ...around,
          reach: 0,
          snapReach: 0,
          slack: 0,
          free: false,
          adding: false,
          mayEdit: rights.player,
        })
      : [];

  useEffect(() => tell({ do: 'keepOnly', players: everybody }), [everybody, tell]);
  const { about } = ui;
  useEffect(() => live.present({ selected: about === '' ? null : about }), [about, live]);

  const box = gesture?.kind === 'selectBox' ? gesture : null;
  return (
    <div ref={window} className={classes.window}>
      {/* biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be a drawing; its buttons are inside */}
      <svg
        ref={svg}
        className={classes.board}
        viewBox={viewBox(view)}
        preserveAspectRatio="none"
        role="group"
        aria-label={`Play board: ${play.name}`}
        aria-describedby={helpId}
        tabIndex={-1}
        data-tool={ui.tool}
        data-editable={rights.any || undefined}
        onKeyDown={(event: KeyboardEvent) => onKeyDown(event)}
        {...hand.pointer}
      >
        <g aria-hidden>
          {scene.groups.map((group) => (
            <SceneGroup key={group.id} group={group} />
          ))}
        </g>
        <GuidesLayer guides={shown.guides} view={view} px={px} />
        <PlayersLayer
          play={moved}
          selected={ui.selected}
          px={px}
          onFocus={(player) => {
            if (!ui.selected.includes(player)) tell({ do: 'select', players: [player] });
          }}
        />
        <HandlesLayer handles={handles} held={hand.handle} px={px} />
        {box && (
          <rect
            className={classes.box}
            x={Math.min(box.from[0], box.to[0]) * unitsPerYard}
            y={-Math.max(box.from[1], box.to[1]) * unitsPerYard}
            width={Math.abs(box.to[0] - box.from[0]) * unitsPerYard}
            height={Math.abs(box.to[1] - box.from[1]) * unitsPerYard}
            strokeWidth={px}
          />
        )}
        <ColleaguesLayer colleagues={colleagues} spots={spots} px={px} />
      </svg>
      <p id={helpId} className={classes.help}>
        {rights.any
          ? 'Tab goes from player to player. Arrows move the selected one half a yard; with Shift one yard, with Alt a tenth. R draws a route, M a motion, Delete removes it. While a line is drawn, arrows move its next point, Space puts that down, Backspace takes the last one back, Enter ends the line.'
          : 'You can look at this board but not change it. Tab goes from player to player.'}
      </p>
      {children}
      <DrawingBar
        gesture={gesture}
        onFinish={hand.finish}
        onCancel={() => {
          hand.cancel();
          tell({ do: 'tool', tool: 'select' });
        }}
        onLift={hand.liftPoint}
      />
      <PointBar handle={hand.handle} onDone={() => hand.setHandle(null)} />
      {hand.trouble !== null && (
        <p role="alert" className={classes.trouble}>
          {hand.trouble}
        </p>
      )}
    </div>
  );
}
