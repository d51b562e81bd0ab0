import type { ReactNode } from 'react';
import classes from './dialog-foot.module.css';

/** The buttons of a long dialog: always in reach, however far it is scrolled. */
export function DialogFoot({ children }: { children: ReactNode }) {
  return <div className={classes.foot}>{children}</div>;
}
