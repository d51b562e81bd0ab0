import { Switch } from '@mantine/core';
import { alignLook, type LookRecipe } from '@stemline/football/shelf';
import type { Protected, Protecting } from '@stemline/read-rules/protection/protect';
import type { RuledPlay } from '@stemline/read-rules/ruled-play';
import { useId, useMemo, useState } from 'react';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { isTrouble, type Outcome, outcomeOf, outcomeWords } from './before-look.ts';
import classes from './protection.module.css';
import { WhoBlocks } from './who-blocks.tsx';

interface Before {
  readonly recipe: LookRecipe;
  readonly seen: Protected;
  readonly outcome: Outcome;
}

const order: readonly Outcome[] = ['late', 'card', 'hot', 'ballFirst', 'blocked'];

/** "28 looks: 20 all blocked, 8 ball is out first". */
function countWords(looks: readonly Before[]): string {
  const parts = order.flatMap((outcome) => {
    const count = looks.filter((one) => one.outcome === outcome).length;
    return count === 0 ? [] : [`${count} ${outcomeWords[outcome]}`];
  });
  return `${looks.length} ${looks.length === 1 ? 'look' : 'looks'}: ${parts.join(', ')}.`;
}

/** Every look of the shelf as it is called, and how the protection does; one can be stood on the board. */
export function LookOutcomes({
  play,
  protecting,
  shelf,
  standing,
}: {
  play: RuledPlay;
  protecting: Protecting;
  shelf: readonly LookRecipe[];
  /** The look on the board, with the reactions that were chosen there. */
  standing: Protected | null;
}) {
  const [ui, tell] = useBoardUi();
  const [onlyFree, setOnlyFree] = useState(false);
  const name = useId();
  const looks = useMemo(
    () =>
      shelf.map((recipe): Before => {
        const seen = protecting.before(alignLook(recipe, play), {});
        return { recipe, seen, outcome: outcomeOf(protecting, seen) };
      }),
    [shelf, protecting, play],
  );
  const stands = ui.defence.kind === 'shelf' ? ui.defence.look : null;
  const shown = onlyFree
    ? looks.filter(({ recipe, seen }) => seen.first !== null || recipe.id === stands)
    : looks;
  const { line, helpers } = protecting.blocking;
  return (
    <fieldset className={classes.looks}>
      <legend className={classes.heading}>Before each look of the shelf</legend>
      <div className={classes.above}>
        <p className={classes.says}>{countWords(looks)}</p>
        <Switch
          size="xs"
          label="Only where a man is free"
          checked={onlyFree}
          onChange={({ currentTarget }) => setOnlyFree(currentTarget.checked)}
        />
      </div>
      {shown.length === 0 && <p className={classes.says}>Nobody comes free before any of them.</p>}
      {shown.map(({ recipe, seen, outcome }) => (
        <div
          key={recipe.id}
          className={classes.entry}
          data-chosen={recipe.id === stands || undefined}
        >
          <label className={classes.look}>
            <input
              type="radio"
              name={name}
              checked={recipe.id === stands}
              onChange={() => tell({ do: 'standLook', look: recipe.id })}
            />
            <span className={classes.name}>
              {recipe.name}
              <span className={classes.counts}>
                {seen.pickUp.rushers} come, {line.length + helpers.length} block
              </span>
            </span>
            <span
              className={classes.result}
              data-outcome={outcome}
              data-trouble={isTrouble(outcome) || undefined}
            >
              {seen.first && (
                <span className={classes.freeMan}>
                  {seen.first.rusher.label} free {seen.first.arrives.toFixed(1)} s
                </span>
              )}
              <span>{outcomeWords[outcome]}</span>
            </span>
          </label>
          {recipe.id === stands && standing && (
            <WhoBlocks protecting={protecting} seen={standing} />
          )}
        </div>
      ))}
    </fieldset>
  );
}
