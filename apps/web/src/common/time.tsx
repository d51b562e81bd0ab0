import classes from './time.module.css';
import { longWhen, paperWhen, shortWhen } from './when.ts';

/** A moment, short on the page and whole in the tooltip, and on paper without "ago". */
export function Time({ at }: { at: string }) {
  return (
    <time dateTime={at} title={longWhen(at)} data-paper={paperWhen(at)} className={classes.time}>
      <span className={classes.short}>{shortWhen(at, new Date())}</span>
    </time>
  );
}
