import { Button } from '@mantine/core';
import { useDeferredValue, useMemo } from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { usePlay } from '../live/hooks.ts';
import { useOnTheBoard } from '../looks/standing-context.tsx';
import { LookOutcomes } from './look-outcomes.tsx';
import { protectionOn, whyNoProtection } from './protecting.ts';
import classes from './protection.module.css';
import { ProtectionCallFields } from './protection-call.tsx';
import { WhoBlocks } from './who-blocks.tsx';

/** Protection and drop as they are called, and what they come to before the look on the board and every other. */
export function ProtectionPanel() {
  const play = useDeferredValue(usePlay());
  const { shelf, standing } = useOnTheBoard();
  const [ui, tell] = useBoardUi();
  const protecting = useMemo(() => protectionOn(play), [play]);
  const seen = useMemo(
    () => (protecting && standing ? protecting.before(standing.look, standing.reactions) : null),
    [protecting, standing],
  );
  return (
    <div className={classes.panel}>
      <ProtectionCallFields protecting={protecting} />
      {!protecting && <p className={classes.says}>{whyNoProtection(play)}</p>}
      {protecting && seen && standing && ui.defence.kind === 'witness' && (
        <section aria-label={`Before ${standing.look.name}`}>
          <p className={classes.witness}>
            <span>{standing.look.name} stands on the board as the witness of a finding.</span>
            <Button
              size="compact-xs"
              variant="default"
              onClick={() => tell({ do: 'clearDefence' })}
            >
              Take it off
            </Button>
          </p>
          <WhoBlocks protecting={protecting} seen={seen} />
        </section>
      )}
      {protecting && !seen && (
        <p className={classes.says}>
          Choose a look below: the board then shows who blocks whom and who comes free.
        </p>
      )}
      {protecting && (
        <LookOutcomes play={play} protecting={protecting} shelf={shelf.looks} standing={seen} />
      )}
      {protecting && (
        <p className={classes.small}>
          Times are of a man whom nobody blocks, running straight; the numbers of the drops are
          common practice. Both are for comparing, not for a stopwatch.
        </p>
      )}
    </div>
  );
}
