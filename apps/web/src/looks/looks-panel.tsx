import { Button, NativeSelect } from '@mantine/core';
import { chosenReaction } from '@stemline/drawing/defence';
import type { Defender } from '@stemline/football/look';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import type { ReadCard } from '@stemline/read-rules/card';
import { branchNames, evaluate } from '@stemline/read-rules/evaluate';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { useDeferredValue, useId, useMemo } from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { answerWords } from '../card/card-words.ts';
import { usePlay } from '../live/hooks.ts';
import { traitWords } from '../shelf/look-words.ts';
import classes from './looks-panel.module.css';
import { menNamed } from './men-named.ts';
import { keyOf, type Standing } from './standing.ts';
import { useOnTheBoard } from './standing-context.tsx';

/** What the open card answers to each look as called, by look. */
function useAnswers(play: RuledPlay, card: ReadCard | undefined, looks: readonly LookRecipe[]) {
  const late = useDeferredValue(play);
  return useMemo(() => {
    const now = card && late.cards.find(({ player }) => player === card.player);
    if (!now) return new Map<string, { branch: string | null; says: string }>();
    return new Map(
      looks.map((recipe) => {
        const { branch, torn } = evaluate(late, now, alignLook(recipe, late), {});
        const name = branch?.name ?? null;
        return [
          recipe.id as string,
          { branch: name, says: answerWords(name, branchNames(now, torn)) },
        ] as const;
      }),
    );
  }, [late, card, looks]);
}

function ReactionOf({
  defender,
  name,
  isKey,
  standing,
}: {
  defender: Defender;
  name: string;
  isKey: boolean;
  standing: Standing;
}) {
  const [, tell] = useBoardUi();
  return (
    <li data-key={isKey || undefined}>
      <span className={classes.letter}>
        {name}
        {isKey && <span className={classes.keyWord}>key</span>}
      </span>
      {defender.reactions.length > 1 ? (
        <NativeSelect
          size="xs"
          aria-label={`${name}${isKey ? ', the key,' : ''} after the snap`}
          value={chosenReaction(defender, standing.reactions)?.id ?? ''}
          onChange={({ currentTarget }) => {
            const reaction = defender.reactions.find(({ id }) => id === currentTarget.value);
            if (reaction) tell({ do: 'react', defender: defender.id, reaction: reaction.id });
          }}
          data={defender.reactions.map(({ id, says }) => ({ value: id as string, label: says }))}
        />
      ) : (
        <span className={classes.only}>{defender.reactions[0]?.says}</span>
      )}
    </li>
  );
}

/** What each defender does, the key first; the first of a man's reactions is what the call asks of him. */
function Reactions({ standing, keyDefender }: { standing: Standing; keyDefender: string | null }) {
  const { defenders } = standing.look;
  const names = menNamed(defenders);
  const key = defenders.filter(({ id }) => id === keyDefender);
  const others = defenders.filter(({ id }) => id !== keyDefender);
  const list = (men: readonly Defender[], isKey: boolean) => (
    <ul className={classes.reactions}>
      {men.map((defender) => (
        <ReactionOf
          key={defender.id}
          defender={defender}
          name={names.get(defender.id) ?? defender.label}
          isKey={isKey}
          standing={standing}
        />
      ))}
    </ul>
  );
  return (
    <section aria-label="Reactions">
      <h2 className={classes.heading}>What they do after the snap</h2>
      {key.length > 0 && list(key, true)}
      <details className={classes.others} open={key.length === 0}>
        <summary>{key.length > 0 ? `The other ${others.length}` : `All ${others.length}`}</summary>
        {list(others, false)}
      </details>
    </section>
  );
}

/** The look shelf: which look stands on the board, and what each man of it does. */
export function LooksPanel() {
  const play = usePlay();
  const [ui, tell] = useBoardUi();
  const { shelf, standing } = useOnTheBoard();
  const name = useId();
  const card = play.cards.find(({ player }) => player === ui.card) ?? play.cards[0];
  const answers = useAnswers(play, card, shelf.looks);
  const label = card && play.players.find(({ id }) => id === card.player)?.label;
  const stands = ui.defence.kind === 'shelf' ? ui.defence.look : null;
  return (
    <div className={classes.panel}>
      {shelf.borrowed && (
        <p className={classes.quiet}>
          {shelf.error
            ? 'The staff’s look shelf cannot be reached. These are the looks that every staff starts with.'
            : 'The staff’s look shelf is on its way.'}
        </p>
      )}
      {ui.defence.kind === 'witness' && standing && (
        <p className={classes.witness}>
          <span>{standing.look.name} stands on the board as the witness of a finding.</span>
          <Button size="compact-xs" variant="default" onClick={() => tell({ do: 'clearDefence' })}>
            Take it off
          </Button>
        </p>
      )}
      {standing && (
        <Reactions standing={standing} keyDefender={keyOf(standing, card?.player ?? null)} />
      )}
      <fieldset className={classes.looks}>
        <legend className={classes.heading}>
          <span>Look on the board</span>
          {label !== undefined && <span className={classes.column}>{label} answers</span>}
        </legend>
        <label className={classes.look} data-chosen={ui.defence.kind === 'none' || undefined}>
          <input
            type="radio"
            name={name}
            checked={ui.defence.kind === 'none'}
            onChange={() => tell({ do: 'clearDefence' })}
          />
          <span className={classes.name}>None</span>
        </label>
        {shelf.looks.map((recipe) => {
          const answer = answers.get(recipe.id);
          return (
            <label
              key={recipe.id}
              className={classes.look}
              data-chosen={recipe.id === stands || undefined}
            >
              <input
                type="radio"
                name={name}
                checked={recipe.id === stands}
                onChange={() => tell({ do: 'standLook', look: recipe.id })}
              />
              <span className={classes.name}>
                {recipe.name}
                <span className={classes.traits}>{traitWords(recipe.traits)}</span>
              </span>
              {answer !== undefined && (
                <span className={classes.answer} data-open={answer.branch === null || undefined}>
                  {answer.says}
                </span>
              )}
            </label>
          );
        })}
      </fieldset>
    </div>
  );
}
