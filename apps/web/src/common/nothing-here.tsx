import type { ReactNode } from 'react';
import classes from './nothing-here.module.css';

/** An empty place says what belongs there and how it gets there. */
export function NothingHere({
  title,
  children,
  action,
}: {
  title: string;
  children?: ReactNode;
  action?: ReactNode;
}) {
  return (
    <div className={classes.nothing}>
      <p className={classes.title}>{title}</p>
      {children !== undefined && <p className={classes.text}>{children}</p>}
      {action}
    </div>
  );
}
