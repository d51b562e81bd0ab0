import type { BoardPlay } from '@stemline/board/board-play';
import { sceneOf } from '@stemline/drawing/play-scene';
import { viewOf } from '@stemline/drawing/view';
import type { Point } from '@stemline/football/geometry';
import { useMemo, useRef } from 'react';
import { CardView } from '../card/card-view.tsx';
import { SceneDrawing } from '../common/scene-drawing.tsx';
import { everyBranch, optionMen } from '../looks/branch-paths.ts';
import { keyOf, type Standing } from '../looks/standing.ts';
import { Caution } from '../notes/caution.tsx';
import { NotesView } from '../notes/notes-view.tsx';
import { calledWords } from '../protection/protection-words.ts';
import { describePlayer } from './describe-player.ts';
import classes from './play-view.module.css';
import { isNarrow, useWindowSize } from './use-window-size.ts';

export interface PlayViewProps {
  content: BoardPlay;
  /** An earlier version: what differs from it is drawn under the play. */
  before?: BoardPlay | null;
  /** What stands against it, with what its cards answer. */
  standing?: Standing | null;
}

/** Over the end of a branch its name may stand. Yards. */
const roomForName = 1.5;
const smallestLetters = { px: 11, yd: 1.1 };

/** Height of letters, yards, that can be read on a drawing so many pixels wide. */
const legible = (viewWidth: number, px: number): number =>
  px <= 0
    ? smallestLetters.yd
    : Math.max(smallestLetters.yd, (smallestLetters.px * viewWidth) / px);

/** A play to be looked at: the drawing, its read cards, its notes. Nothing can be changed. */
export function PlayView({ content, before = null, standing = null }: PlayViewProps) {
  const { play, notes } = content;
  const window = useRef<HTMLDivElement>(null);
  const { width } = useWindowSize(window);
  const scene = useMemo(() => {
    const paths = everyBranch(play, standing);
    const ends = paths.flatMap(({ points }) => points.map(([x, y]): Point => [x, y + roomForName]));
    const frame = viewOf(play, isNarrow({ width }) ? 'play' : 'field', ends);
    return sceneOf(play, {
      frame,
      paths,
      stems: optionMen(play),
      labelSize: legible(frame.width, width),
      before: before?.play ?? null,
      look: standing?.look ?? null,
      reactions: standing?.reactions ?? {},
      key: keyOf(standing, play.cards[0]?.player ?? null),
    });
  }, [play, before, standing, width]);
  const called = calledWords(play);
  return (
    <div className={classes.view} ref={window}>
      <div className={classes.drawing}>
        <SceneDrawing scene={scene} label={`${play.name}, drawn`} />
      </div>
      {called.length > 0 && <p className={classes.called}>{called.join('. ')}.</p>}
      <details className={classes.words}>
        <summary>The drawing in words</summary>
        <ul>
          {play.players.map((player) => (
            <li key={player.id}>{describePlayer(play, player)}</li>
          ))}
        </ul>
      </details>
      {play.cards.length > 0 && (
        <section className={classes.cards} aria-label="Read cards">
          {play.cards.map((card) => (
            <CardView key={card.player} play={play} card={card} />
          ))}
        </section>
      )}
      {notes.length > 0 && (
        <section aria-label="Install notes" className={classes.notes}>
          <h2>Install notes</h2>
          <NotesView notes={notes} />
          <Caution />
        </section>
      )}
    </div>
  );
}
