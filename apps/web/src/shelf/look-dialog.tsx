import type { LookRecipe } from '@stemline/football/shelf';
import type { ReactNode } from 'react';
import { type AtWork, WorkDialog } from '../common/work-dialog.tsx';

/** What every editor of a look is given by the shelf. */
export interface LookDialogProps {
  title: string;
  /** What the editor starts from; null closes it. */
  from: LookRecipe | null;
  onClose: () => void;
}

/** A look being worked on, afresh for each that it starts from. */
export function LookDialog({
  from,
  children,
  ...dialog
}: LookDialogProps & {
  size: string;
  children: (from: LookRecipe, atWork: AtWork) => ReactNode;
}) {
  return (
    <WorkDialog {...dialog} opened={from !== null}>
      {(atWork) => from !== null && children(from, atWork)}
    </WorkDialog>
  );
}
