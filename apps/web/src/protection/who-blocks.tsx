import type { Player } from '@stemline/football/play';
import type { Protected, Protecting } from '@stemline/read-rules/protection/protect';
import { isTrouble, outcomeOf, outcomeSays } from './before-look.ts';
import classes from './protection.module.css';

interface Line {
  readonly blocker: Player;
  readonly man: string;
  readonly idle: boolean;
}

function linesOf({ blocking }: Protecting, { pickUp }: Protected): readonly Line[] {
  const rusherOf = (player: Player): string | undefined =>
    pickUp.blocks.find(({ blocker }) => blocker.id === player.id)?.rusher.label;
  return [
    ...blocking.line.map((blocker) => ({ blocker, none: 'helps' })),
    ...blocking.helpers.map(({ player, releases }) => ({
      blocker: player,
      none: releases ? 'goes out' : 'helps',
    })),
  ].map(({ blocker, none }) => {
    const rusher = rusherOf(blocker);
    return { blocker, man: rusher ?? none, idle: rusher === undefined };
  });
}

/** Who has whom before the look on the board, and what becomes of who is left. */
export function WhoBlocks({ protecting, seen }: { protecting: Protecting; seen: Protected }) {
  const outcome = outcomeOf(protecting, seen);
  return (
    <div className={classes.who}>
      <p
        className={classes.outcome}
        data-outcome={outcome}
        data-trouble={isTrouble(outcome) || undefined}
      >
        {outcomeSays(protecting, seen)}
      </p>
      <ul className={classes.pairs} aria-label="Who blocks whom">
        {linesOf(protecting, seen).map(({ blocker, man, idle }) => (
          <li key={blocker.id} data-idle={idle || undefined}>
            <span className={classes.blocker}>{blocker.label}</span>
            <span className={classes.hidden}>{idle ? ' ' : ' has '}</span>
            <span className={classes.rusher}>{man}</span>
          </li>
        ))}
        {seen.pickUp.free.map((rusher) => (
          <li key={rusher.id} data-free>
            <span className={classes.blocker}>nobody</span>
            <span className={classes.hidden}> has </span>
            <span className={classes.rusher}>{rusher.label}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}
