import type { Play } from '@stemline/football/play';
import type { ReadCard } from '@stemline/read-rules/card';
import { BranchList } from './branch-list.tsx';
import classes from './card-panel.module.css';
import { branchName, cardName, keyWords, policyNames, sideManWords } from './card-words.ts';
import { DecisionTable } from './decision-table.tsx';

/** A read card to be read: in a signed version, on a player's phone. */
export function CardView({ play, card }: { play: Play; card: ReadCard }) {
  return (
    <article className={classes.panel} aria-label={cardName(play, card)}>
      <div className={classes.part}>
        <h2 className={classes.heading}>{cardName(play, card)}</h2>
        <p className={classes.words}>
          {keyWords(play, card)} {sideManWords(card.head)} What answers:{' '}
          {policyNames[card.head.policy]}.
        </p>
      </div>
      <DecisionTable card={card} label={`Rows of ${cardName(play, card)}`} />
      <dl className={classes.standing}>
        <dt>When in doubt</dt>
        <dd>{branchName(card, card.head.whenInDoubt)}</dd>
        <dt>No key</dt>
        <dd>{branchName(card, card.head.noKey)}</dd>
      </dl>
      <BranchList play={play} card={card} />
    </article>
  );
}
