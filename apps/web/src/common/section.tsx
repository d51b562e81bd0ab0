import { type ReactNode, useId } from 'react';
import classes from './section.module.css';

/** A part of a page under its own heading. */
export function Section({
  title,
  actions,
  children,
}: {
  title: string;
  actions?: ReactNode;
  children: ReactNode;
}) {
  const id = useId();
  return (
    <section aria-labelledby={id} className={classes.section}>
      <div className={classes.head}>
        <h2 id={id} className={classes.title}>
          {title}
        </h2>
        {actions}
      </div>
      {children}
    </section>
  );
}
