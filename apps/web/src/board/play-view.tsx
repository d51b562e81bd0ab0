import type { BoardPlay } from '@stemline/board/board-play';
import { sceneOf } from '@stemline/drawing/play-scene';
import { viewOf } from '@stemline/drawing/view';
import { useMemo, useRef } from 'react';
import { CardView } from '../card/card-view.tsx';
import { SceneDrawing } from '../common/scene-drawing.tsx';
import { NotesView } from '../notes/notes-view.tsx';
import { calledWords } from '../protection/protection-words.ts';
import { describePlayer } from './describe-player.ts';
import classes from './play-view.module.css';
import { isNarrow, useWindowSize } from './use-window-size.ts';

export interface PlayViewProps {
  content: BoardPlay;
  /** An earlier version: what differs from it is drawn under the play. */
  before?: BoardPlay | null;
}

/** A play to be looked at: the drawing, its read cards, its notes. Nothing can be changed. */
export function PlayView({ content, before = null }: PlayViewProps) {
  const { play, notes } = content;
  const window = useRef<HTMLDivElement>(null);
  const { width } = useWindowSize(window);
  const scene = useMemo(
    () =>
      sceneOf(play, {
        frame: viewOf(play, isNarrow({ width }) ? 'play' : 'field'),
        before: before?.play ?? null,
      }),
    [play, before, width],
  );
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
        </section>
      )}
    </div>
  );
}
