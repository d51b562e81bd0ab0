import { useDocumentTitle } from '@mantine/hooks';
import type { ReactNode } from 'react';
import { Wordmark } from '../theme/mark.tsx';
import { contentId } from './content.ts';
import classes from './doorway.module.css';
import { DoorwayDrawing } from './doorway-drawing.tsx';

/** The screens before the staff's room: one heading, one form, and the drawing beside it. */
export function Doorway(props: {
  title: string;
  about?: ReactNode;
  beside?: ReactNode;
  children: ReactNode;
}) {
  useDocumentTitle(`${props.title} · Stemline`);
  return (
    <div className={classes.doorway}>
      <main id={contentId} tabIndex={-1} className={classes.form}>
        <div className={classes.inner}>
          <Wordmark size={30} />
          <h1 className={classes.title}>{props.title}</h1>
          {props.about !== undefined && <div className={classes.about}>{props.about}</div>}
          {props.children}
          {props.beside !== undefined && <p className={classes.beside}>{props.beside}</p>}
        </div>
      </main>
      <DoorwayDrawing className={classes.drawing ?? ''} />
    </div>
  );
}
