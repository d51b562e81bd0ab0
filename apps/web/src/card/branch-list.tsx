import type { Play } from '@stemline/football/play';
import type { Branch, BranchId, ReadCard } from '@stemline/read-rules/card';
import type { Finding } from '@stemline/read-rules/finding';
import type { ReactNode } from 'react';
import { SeverityIcon } from '../common/severity.tsx';
import classes from './card-panel.module.css';
import { branchWords } from './card-words.ts';

/** Every branch of a card in a line; opened, it can be edited. */
export function BranchList({
  play,
  card,
  words = branchWords,
  lit = null,
  findings = new Map(),
  onFinding,
  editor,
}: {
  play: Play;
  card: ReadCard;
  /** What a branch is told as; the board's own words where nothing else is said. */
  words?: typeof branchWords;
  /** The branch that answers the look on the board. */
  lit?: BranchId | null;
  findings?: ReadonlyMap<BranchId, readonly Finding[]>;
  onFinding?: (finding: Finding) => void;
  /** Without it the branches are only read. */
  editor?: (branch: Branch) => ReactNode;
}) {
  if (card.branches.length === 0) return <p className={classes.quiet}>No branches yet.</p>;
  return (
    <ul className={classes.branches}>
      {card.branches.map((branch) => {
        const line = (
          <>
            <span className={classes.branchName}>{branch.name}</span>
            <span className={classes.branchWords}>{words(play, branch)}</span>
          </>
        );
        return (
          <li key={branch.id} data-lit={branch.id === lit || undefined}>
            {editor ? (
              <details className={classes.branch}>
                <summary>{line}</summary>
                {editor(branch)}
              </details>
            ) : (
              <div className={classes.branch}>{line}</div>
            )}
            {(findings.get(branch.id) ?? []).map((finding) => (
              <button
                key={finding.id}
                type="button"
                className={classes.finding}
                data-severity={finding.severity}
                onClick={() => onFinding?.(finding)}
              >
                <SeverityIcon severity={finding.severity} size={14} />
                <span>{finding.says}</span>
              </button>
            ))}
          </li>
        );
      })}
    </ul>
  );
}
