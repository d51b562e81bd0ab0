import { useEffect, useRef, useState } from 'react';
import { useFindings } from '../live/hooks.ts';
import { noFindingsYet } from '../live/live-board.ts';
import classes from './board-room.module.css';

/** Reads out what the rule check has found or sees mended, for those who do not see the board. */
export function FindingsLive() {
  const findings = useFindings();
  const known = useRef<ReadonlyMap<string, string> | null>(null);
  const [words, setWords] = useState('');
  useEffect(() => {
    if (findings === noFindingsYet) return;
    const now = new Map(findings.map(({ finding }) => [finding.id, finding.says] as const));
    const before = known.current;
    known.current = now;
    // What stood before the page was opened is read in its section, not shouted.
    if (!before) return;
    const opened = [...now].filter(([id]) => !before.has(id)).map(([, says]) => says);
    const closed = [...before].filter(([id]) => !now.has(id)).length;
    if (opened.length === 0 && closed === 0) return;
    setWords(
      [
        ...opened.map((says) => `New finding: ${says}`),
        ...(closed > 0
          ? [closed === 1 ? 'One finding is mended.' : `${closed} findings are mended.`]
          : []),
      ].join(' '),
    );
  }, [findings]);
  return (
    <div className={classes.live} role="status" aria-live="polite">
      {words}
    </div>
  );
}
