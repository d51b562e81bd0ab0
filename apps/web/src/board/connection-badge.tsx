import { Button } from '@mantine/core';
import {
  IconAlertOctagon,
  IconCloudCheck,
  IconCloudOff,
  IconCloudUp,
  IconPlugConnected,
} from '@tabler/icons-react';
import { closedWords } from '../live/closed-words.ts';
import type { Connection } from '../live/connection.ts';
import { useConnection } from '../live/hooks.ts';
import { useLive } from '../live/live-context.tsx';
import classes from './connection.module.css';

const edits = (count: number): string => (count === 1 ? '1 edit' : `${count} edits`);

/** Where the edits are that the room lacks. */
const held = ({ unsaved, kept }: { unsaved: number; kept: boolean }): string =>
  kept ? `${edits(unsaved)} kept here` : `${edits(unsaved)} on this page only`;

/** Whether the coach's edits are safe, in a few words. */
function connectionWords(connection: Connection): string {
  switch (connection.kind) {
    case 'connecting':
      return connection.unsaved > 0 ? `Connecting, ${held(connection)}` : 'Connecting';
    case 'saved':
      return 'Saved';
    case 'saving':
      return connection.behind
        ? `Not saved yet: the store does not answer, ${edits(connection.unsaved)} waiting`
        : `Saving ${edits(connection.unsaved)}`;
    case 'offline':
      return connection.unsaved > 0 ? `Offline, ${held(connection)}` : 'Offline';
    case 'refused':
      return 'An edit was not taken';
    case 'closed':
      return closedWords(connection.code).title;
  }
}

const icons = {
  connecting: IconPlugConnected,
  saved: IconCloudCheck,
  saving: IconCloudUp,
  offline: IconCloudOff,
  refused: IconAlertOctagon,
  closed: IconAlertOctagon,
} as const;

/** The state of the connection, shown at every width and read out when it changes. */
export function ConnectionBadge() {
  const connection = useConnection();
  const live = useLive();
  const Icon = icons[connection.kind];
  return (
    <div className={classes.badge} data-state={connection.kind}>
      <Icon size={17} stroke={1.9} aria-hidden />
      <output aria-live="polite">{connectionWords(connection)}</output>
      {connection.kind === 'offline' && (
        <Button size="compact-xs" variant="default" onClick={() => live.retry()}>
          Try now
        </Button>
      )}
    </div>
  );
}
