import type { PastBoard } from '@stemline/protocol/api/history';
import classes from './history.module.css';

/** Who sat, and what they had changed by then, in words. */
export function SittingTold({ sitting }: { sitting: PastBoard['sitting'] }) {
  if (sitting === null) return null;
  const { names, did } = sitting;
  const who = names.length > 0 ? names.join(', ') : 'Stemline itself';
  if (did.length === 0)
    return <p className={classes.small}>{who} changed nothing that was still there by then.</p>;
  return (
    <section className={classes.told} aria-label="What was changed in this stretch of edits">
      <h3>Changed in this stretch of edits, by {who}</h3>
      <ul>
        {did.map((change) => (
          <li key={change}>{change}</li>
        ))}
      </ul>
    </section>
  );
}
