import { structureOf } from '@stemline/football/formation';
import { paperWhen } from '../common/when.ts';
import { useProjection } from '../live/hooks.ts';
import { useOnTheBoard } from '../looks/standing-context.tsx';
import { PlayView } from './play-view.tsx';
import classes from './printed-board.module.css';

/** The working board on paper: the drawing with the look that stands against it, cards and notes. */
export function PrintedBoard() {
  const { board } = useProjection();
  const { standing } = useOnTheBoard();
  const { play } = board;
  const of = [play.concept, structureOf(play).name].filter((part) => part !== '').join(', ');
  return (
    <section className={classes.printed} aria-label="The board on paper">
      <h1 className={classes.name}>{play.name}</h1>
      <p className={classes.about}>
        {of}. Working board as of {paperWhen(new Date().toISOString())}, not signed off.
        {standing && ` Against ${standing.look.name}.`}
      </p>
      <PlayView content={board} standing={standing} />
    </section>
  );
}
