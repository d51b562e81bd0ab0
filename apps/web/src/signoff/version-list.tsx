import { Link } from '@tanstack/react-router';
import { useVersions } from '../api/versions.ts';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Time } from '../common/time.tsx';
import classes from './signoff.module.css';

/** The signed-off versions of a play, newest first; each opens as it was signed. */
export function VersionList({ boardId }: { boardId: string }) {
  const versions = useVersions(boardId);
  if (versions.isPending) return <LoadingLines what="the versions" lines={2} />;
  if (versions.isError)
    return <ProblemNotice error={versions.error} onRetry={() => void versions.refetch()} />;
  if (versions.data.length === 0)
    return <p className={classes.small}>No version is signed off yet.</p>;
  return (
    <ul className={classes.versions} aria-label="Signed-off versions">
      {versions.data
        .toSorted((a, b) => b.number - a.number)
        .map((version) => (
          <li key={version.id}>
            <Link
              to="/versions/$versionId"
              params={{ versionId: version.id }}
              className={classes.version}
            >
              Version {version.number}
            </Link>
            <span className={classes.small}>
              by {version.author}, signed by {version.signer}, <Time at={version.signedAt} />
            </span>
          </li>
        ))}
    </ul>
  );
}
