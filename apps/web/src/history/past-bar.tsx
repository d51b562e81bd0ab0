import { Button } from '@mantine/core';
import type { Board } from '@stemline/protocol/api/boards';
import type { PastBoard } from '@stemline/protocol/api/history';
import { may } from '@stemline/protocol/permissions';
import { useState } from 'react';
import classes from './history.module.css';
import { RestoreBoard } from './restore-board.tsx';

/** How the play as it was differs from the play as it is, and the way back. */
export function PastBar({ board, past }: { board: Board; past: PastBoard }) {
  const [restoring, setRestoring] = useState(false);
  const { changes } = past;
  const mayRestore = board.archivedAt === null && may(board.member.role, 'board.editAll');
  return (
    <>
      {changes.length === 0 ? (
        <p className={classes.small}>Nothing has changed since then.</p>
      ) : (
        <div className={classes.bar}>
          <details className={classes.changes}>
            <summary>
              Restoring it would change{' '}
              {changes.length === 1 ? 'one thing' : `${changes.length} things`}
            </summary>
            <ul>
              {changes.map((change) => (
                <li key={change}>{change}</li>
              ))}
            </ul>
          </details>
          {mayRestore && <Button onClick={() => setRestoring(true)}>Restore this</Button>}
        </div>
      )}
      {/* It stays while the play has just come to say the same: it still has to say so. */}
      <RestoreBoard
        board={board}
        past={past}
        opened={restoring}
        onClose={() => setRestoring(false)}
      />
    </>
  );
}
