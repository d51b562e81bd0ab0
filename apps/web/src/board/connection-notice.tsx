import { Button, CopyButton, Modal } from '@mantine/core';
import { useState } from 'react';
import { closedWords } from '../live/closed-words.ts';
import { useConnection, useOthersLate, useRefusedPlay } from '../live/hooks.ts';
import { useLive } from '../live/live-context.tsx';
import classes from './connection.module.css';
import { PlayView } from './play-view.tsx';

/** A part of a sentence as a whole one. */
const sentence = (text: string): string =>
  text === ''
    ? ''
    : `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;

/** What was refused, why, and the work to take back by hand. */
function RefusedNotice() {
  const connection = useConnection();
  const mine = useRefusedPlay();
  const live = useLive();
  const [shown, setShown] = useState(false);
  if (connection.kind !== 'refused') return null;
  const { refused, work } = connection;
  const text = [
    `Not taken: ${refused.why}`,
    sentence(refused.mend),
    ...(work ?? []).map((line) => `- ${line}`),
  ].join('\n');
  return (
    <section className={classes.notice} role="alert" aria-label="An edit was not taken">
      <div className={classes.noticeText}>
        <h2>An edit was not taken</h2>
        <p>
          {sentence(refused.why)} {sentence(refused.mend)}
        </p>
        {work === null && <p>The board is being opened again to compare.</p>}
        {work?.length === 0 && <p>Nothing of it is missing from the board as it is now.</p>}
        {work !== null && work.length > 0 && (
          <>
            <p>What you had, and the board has not. Make it again by hand where it is right:</p>
            <ul className={classes.work}>
              {work.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </>
        )}
      </div>
      <div className={classes.noticeActions}>
        <CopyButton value={text}>
          {({ copied, copy }) => (
            <Button size="xs" variant="default" onClick={copy}>
              {copied ? 'Copied' : 'Copy as text'}
            </Button>
          )}
        </CopyButton>
        {mine && (
          <Button size="xs" variant="default" onClick={() => setShown(true)}>
            Show what I had
          </Button>
        )}
        <Button size="xs" onClick={() => live.dismissRefused()}>
          Done with it
        </Button>
      </div>
      {mine && (
        <Modal opened={shown} onClose={() => setShown(false)} size="xl" title="What you had">
          <PlayView content={mine} />
        </Modal>
      )}
    </section>
  );
}

/** Why the room closed, and how to go on. */
function ClosedNotice() {
  const connection = useConnection();
  const live = useLive();
  if (connection.kind !== 'closed') return null;
  const { title, detail, again } = closedWords(connection.code);
  return (
    <section className={classes.notice} role="alert" aria-label={title}>
      <div className={classes.noticeText}>
        <h2>{title}</h2>
        <p>
          {detail}
          {connection.unsaved > 0 &&
            ' What you changed and the room has not is kept in this browser.'}
        </p>
      </div>
      <div className={classes.noticeActions}>
        <Button size="xs" variant="default" onClick={() => window.location.reload()}>
          Load the page again
        </Button>
        {again && (
          <Button size="xs" onClick={() => live.retry()}>
            Open the board again
          </Button>
        )}
      </div>
    </section>
  );
}

/** Servers that do not hear each other: nothing is lost, and nothing is to be done about it. */
function LateNotice() {
  const late = useOthersLate();
  return (
    <output className={classes.late} aria-live="polite">
      {late &&
        'Some of the staff may be here without showing; what they change comes in a moment late.'}
    </output>
  );
}

/** What a coach has to know about his connection before he goes on. */
export function ConnectionNotice() {
  return (
    <>
      <RefusedNotice />
      <ClosedNotice />
      <LateNotice />
    </>
  );
}
