import { Switch } from '@mantine/core';
import type { Cell, LookOnPage, SamePage } from '@stemline/read-rules/same-page/same-page';
import { useMemo, useState } from 'react';
import type { Defence } from '../board/board-ui.ts';
import { useBoardUi } from '../board/board-ui-context.tsx';
import { answerWords } from '../card/card-words.ts';
import { useShownPlay } from '../rule-check/rule-check-context.tsx';
import { type Group, linesOf, offCount } from './groups.ts';
import classes from './same-page.module.css';
import { useSamePage } from './use-same-page.ts';

/** Whether these very reactions stand on the board. */
function stands(defence: Defence, look: LookOnPage, cell: Cell): boolean {
  if (defence.kind !== 'shelf' || defence.look !== look.look) return false;
  const { reactions } = defence;
  const named = Object.entries(cell.reactions);
  return (
    named.every(([man, reaction]) => Reflect.get(reactions, man) === reaction) &&
    Object.keys(reactions).length === named.length
  );
}

const doesWords = (look: LookOnPage, cell: Cell): string =>
  look.varied.map(({ name }, i) => `${name} ${cell.does[i]}`).join(', ') || 'as called';

/** How long the ball is past the nearest man, or he is under it before. */
function Margin({ cell: { target, margin } }: { cell: Cell }) {
  if (target === null) return <td />;
  if (!margin) return <td className={classes.clear}>clear</td>;
  const { seconds, by } = margin;
  return (
    <td data-under={seconds < 0 || undefined}>
      <span className={classes.branch}>
        {seconds < 0 ? '−' : '+'}
        {Math.abs(seconds).toFixed(2)} s
      </span>
      <span className={classes.key}>{by.name}</span>
    </td>
  );
}

interface LineProps {
  look: LookOnPage;
  group: Group;
  page: SamePage;
}

function Line({ look, group: { cells }, page }: LineProps) {
  const [ui, tell] = useBoardUi();
  const chosen = cells.find((cell) => stands(ui.defence, look, cell));
  const cell = chosen ?? cells[0];
  const more = cells.length - 1;
  const stand = (one: Cell): void =>
    tell({ do: 'standLook', look: look.look, reactions: one.reactions });
  return (
    <>
      <tr data-off={cell.off.length > 0 || undefined} data-chosen={chosen ? true : undefined}>
        <th scope="row">
          <button
            type="button"
            className={classes.stand}
            aria-pressed={chosen !== undefined}
            onClick={() => stand(cell)}
          >
            {doesWords(look, cell)}
            {cell.isCalled && <span className={classes.called}> as called</span>}
            {more > 0 && <span className={classes.more}> and {more} more</span>}
          </button>
        </th>
        {cell.readings.map(({ keys, branch, torn, rowName }, i) => (
          <td key={page.readers[i]?.player} data-silent={branch === null || undefined}>
            <span className={classes.branch}>{answerWords(branch, torn)}</span>
            <span className={classes.key}>
              {keys.map(({ name }) => name).join(', ') || 'no key'}, {rowName}
            </span>
          </td>
        ))}
        {page.passer !== null && <Margin cell={cell} />}
      </tr>
      <tr className={classes.sayRow} data-off={cell.off.length > 0 || undefined}>
        <td colSpan={1 + cell.readings.length + (page.passer === null ? 0 : 1)}>
          <p className={classes.says}>{cell.says}</p>
          {chosen && more > 0 && (
            <div className={classes.others}>
              {cells.map((one) => (
                <button
                  key={JSON.stringify(one.reactions)}
                  type="button"
                  aria-pressed={one === chosen}
                  className={classes.other}
                  onClick={() => stand(one)}
                >
                  {doesWords(look, one)}
                </button>
              ))}
            </div>
          )}
        </td>
      </tr>
    </>
  );
}

function LookTable({ look, groups, page }: { look: LookOnPage; groups: Group[]; page: SamePage }) {
  return (
    <section className={classes.look}>
      <table className={classes.table}>
        <caption>
          {look.name}
          {look.held.length > 0 && (
            <span className={classes.held}>
              {' '}
              {look.held.map(({ name }) => name).join(', ')} only as called
            </span>
          )}
        </caption>
        <thead>
          <tr>
            <th scope="col">After the snap</th>
            {page.readers.map(({ player, label }) => (
              <th key={player} scope="col">
                {label}
              </th>
            ))}
            {page.passer !== null && <th scope="col">Margin</th>}
          </tr>
        </thead>
        <tbody>
          {groups.map((group) => (
            <Line key={group.key} look={look} group={group} page={page} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Summary({ page }: { page: SamePage }) {
  const cells = page.looks.reduce((sum, look) => sum + look.cells.length, 0);
  const off = offCount(page);
  const passer = page.readers.find(({ player }) => player === page.passer);
  return (
    <p className={classes.summary} data-off={off > 0 || undefined}>
      {page.looks.length} looks, {cells} ways for the men read to react.{' '}
      {passer
        ? off > 0
          ? `${passer.label} and his receivers are off the page in ${off}.`
          : `${passer.label} and his receivers are on the same page in all of them.`
        : 'No quarterback’s card says where the ball goes, so nobody can be off the page.'}
    </p>
  );
}

/** Look by reaction: whom each reader sees, what he answers, where the ball goes. */
export function SamePagePanel() {
  const { page, working, failed } = useSamePage(useShownPlay());
  const [onlyOff, setOnlyOff] = useState(false);
  const lines = useMemo(() => (page ? linesOf(page, onlyOff) : []), [page, onlyOff]);
  if (failed)
    return (
      <p className={classes.quiet} role="alert">
        The table could not be worked out on this machine. The findings of the room still hold.
      </p>
    );
  if (!page) return <p className={classes.quiet}>The table is being worked out.</p>;
  if (page.readers.length === 0)
    return (
      <p className={classes.quiet}>
        No read cards with rows yet. Once somebody reads, this shows what everybody comes to before
        every look.
      </p>
    );
  return (
    <div className={classes.panel} aria-busy={working}>
      <Summary page={page} />
      {page.passer !== null && (
        <Switch
          size="xs"
          label="Only where somebody is off the page"
          checked={onlyOff}
          onChange={({ currentTarget }) => setOnlyOff(currentTarget.checked)}
        />
      )}
      {onlyOff && lines.length === 0 && <p className={classes.quiet}>Nobody is.</p>}
      {lines.map(({ look, groups }) => (
        <LookTable key={look.look} look={look} groups={groups} page={page} />
      ))}
    </div>
  );
}
