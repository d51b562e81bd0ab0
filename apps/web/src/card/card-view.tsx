import type { Play } from '@stemline/football/play';
import type { ReadCard } from '@stemline/read-rules/card';
import { BranchList } from './branch-list.tsx';
import classes from './card-panel.module.css';
import { branchName, cardName } from './card-words.ts';
import { DecisionTable } from './decision-table.tsx';
import { branchForPlayer, keyForPlayer, sideManForPlayer } from './player-words.ts';

/** A read card to be read: in a signed version, on a player's phone. */
export function CardView({ play, card }: { play: Play; card: ReadCard }) {
  return (
    <article className={classes.panel} aria-label={cardName(play, card)}>
      <div className={classes.part}>
        <h2 className={classes.heading}>{cardName(play, card)}</h2>
        <p className={classes.words}>
          {keyForPlayer(play, card)} {sideManForPlayer(play, card)}
        </p>
      </div>
      <DecisionTable card={card} label={`Rows of ${cardName(play, card)}`} />
      <dl className={classes.standing}>
        <dt>When in doubt</dt>
        <dd>{branchName(card, card.head.whenInDoubt)}</dd>
        <dt>No key</dt>
        <dd>{branchName(card, card.head.noKey)}</dd>
      </dl>
      <BranchList play={play} card={card} words={branchForPlayer} />
    </article>
  );
}
