import { useDocumentTitle } from '@mantine/hooks';
import type { ReactNode } from 'react';
import classes from './page.module.css';

/** One screen: its heading, what can be done with the whole of it, and its content. */
export function Page(props: {
  title: string;
  /** A line under the heading; not needed where the heading says it all. */
  about?: ReactNode;
  actions?: ReactNode;
  width?: 'wide' | 'reading';
  children: ReactNode;
}) {
  useDocumentTitle(`${props.title} · Stemline`);
  return (
    <div className={classes.page} data-width={props.width ?? 'wide'}>
      <header className={classes.head}>
        <div className={classes.heading}>
          <h1 className={classes.title}>{props.title}</h1>
          {props.about !== undefined && <p className={classes.about}>{props.about}</p>}
        </div>
        {props.actions !== undefined && <div className={classes.actions}>{props.actions}</div>}
      </header>
      {props.children}
    </div>
  );
}
