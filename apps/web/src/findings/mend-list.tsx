import { Button } from '@mantine/core';
import type { Mend } from '@stemline/read-rules/mends/mend';
import { useState } from 'react';
import { useRights } from '../board/rights.ts';
import { useBoard } from '../live/hooks.ts';
import classes from './mend-list.module.css';

const doWords: Record<Mend['do'], string> = {
  addRow: 'Add this row',
  narrowRow: 'Narrow this row',
  removeRow: 'Remove this row',
  setWhenInDoubt: 'Set when in doubt',
  setPolicy: 'Let the first decide',
  setDepths: 'Move the depth',
  setFinish: 'Change the break',
};

/** The button goes with its finding; the focus, and with it undo by the keyboard, stays on the board. */
function focusSection(button: HTMLElement): void {
  const tab = button.closest('[role="tabpanel"]')?.getAttribute('aria-labelledby');
  if (tab) document.getElementById(tab)?.focus();
}

/** What would take a finding away, each with one click; nothing for those who may not edit the card. */
export function MendList({ mends }: { mends: readonly Mend[] }) {
  const board = useBoard();
  const rights = useRights();
  const [wrong, setWrong] = useState<string | null>(null);
  const mine = mends.filter(({ player }) => rights.player(player));
  if (mine.length === 0) return null;
  const make = (mend: Mend, button: HTMLElement): void => {
    const made = board.applyMend(mend);
    if (made.ok) focusSection(button);
    setWrong(made.ok ? null : `It was not changed: ${made.error.why}.`);
  };
  return (
    <>
      <ul className={classes.mends} aria-label="Ways to mend it">
        {mine.map((mend) => (
          <li key={mend.says}>
            <span>{mend.says}</span>
            <Button
              size="compact-sm"
              variant="light"
              className={classes.make ?? ''}
              aria-label={`${doWords[mend.do]}: ${mend.says}`}
              onClick={({ currentTarget }) => make(mend, currentTarget)}
            >
              {doWords[mend.do]}
            </Button>
          </li>
        ))}
      </ul>
      {wrong !== null && (
        <p className={classes.wrong} role="alert">
          {wrong}
        </p>
      )}
    </>
  );
}
