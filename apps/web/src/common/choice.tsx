import type { ReactNode } from 'react';
import classes from './choice.module.css';

/** A label over a row of choices, tied to it for screen readers. */
export function Choice({ label, children }: { label: string; children: ReactNode }) {
  return (
    <fieldset className={classes.choice}>
      <legend className={classes.label}>{label}</legend>
      {children}
    </fieldset>
  );
}
