import { longWhen, shortWhen } from './when.ts';

/** A moment, short on the page and whole in the tooltip. */
export function Time({ at }: { at: string }) {
  return (
    <time dateTime={at} title={longWhen(at)} style={{ whiteSpace: 'nowrap' }}>
      {shortWhen(at, new Date())}
    </time>
  );
}
