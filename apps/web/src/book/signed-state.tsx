import type { BoardLine } from '@stemline/protocol/api/boards';
import { IconHourglassHigh, IconRosetteDiscountCheck } from '@tabler/icons-react';
import classes from './signed-state.module.css';

/** How far a play has come: the version that is signed off, and whether a change waits. */
export function SignedState({ line }: { line: Pick<BoardLine, 'signedVersion' | 'sentUp'> }) {
  return (
    <span className={classes.states}>
      {line.signedVersion !== null && (
        <span className={classes.signed}>
          <IconRosetteDiscountCheck size={16} aria-hidden />
          Version {line.signedVersion}
        </span>
      )}
      {line.sentUp && (
        <span className={classes.waiting}>
          <IconHourglassHigh size={14} aria-hidden />
          Sent up
        </span>
      )}
      {line.signedVersion === null && !line.sentUp && (
        <span className={classes.working}>Working</span>
      )}
    </span>
  );
}
