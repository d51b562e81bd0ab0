import type { BoardLine } from '@stemline/protocol/api/boards';
import { may } from '@stemline/protocol/permissions';
import type { Role } from '@stemline/protocol/roles';
import { IconArrowDown, IconMessage } from '@tabler/icons-react';
import { Link } from '@tanstack/react-router';
import { FindingCounts } from '../common/severity.tsx';
import { Time } from '../common/time.tsx';
import type { Order } from './book-lines.ts';
import classes from './book-table.module.css';
import { type PlayAction, playActions } from './play-actions.ts';
import { PlayMenu } from './play-menu.tsx';
import { SignedState } from './signed-state.tsx';

export function BookTable(props: {
  lines: readonly BoardLine[];
  role: Role;
  order: Order;
  onOrder: (order: Order) => void;
  onChoose: (line: BoardLine, action: PlayAction) => void;
}) {
  const working = may(props.role, 'board.open');
  const column = (order: Order, label: string, name: string) => (
    <th
      scope="col"
      data-column={name}
      aria-sort={
        props.order === order ? (order === 'updated' ? 'descending' : 'ascending') : undefined
      }
    >
      <button type="button" className={classes.sort} onClick={() => props.onOrder(order)}>
        {label}
        {props.order === order && <IconArrowDown size={13} aria-hidden />}
      </button>
    </th>
  );
  return (
    <table className={classes.table}>
      <thead>
        <tr>
          {column('name', 'Play', 'name')}
          {column('concept', 'Concept', 'concept')}
          {column('formation', 'Formation', 'formation')}
          <th scope="col" data-column="signed">
            Sign-off
          </th>
          {working && (
            <>
              <th scope="col" data-column="findings">
                Findings
              </th>
              <th scope="col" data-column="comments">
                Comments
              </th>
            </>
          )}
          {column('updated', 'Updated', 'updated')}
          <th data-column="more">
            <span className={classes.hidden}>More</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {props.lines.map((line) => (
          <tr key={line.id}>
            <th scope="row" data-column="name">
              <Link
                to={working ? '/boards/$boardId' : '/boards/$boardId/signed'}
                params={{ boardId: line.id }}
                className={classes.play}
              >
                {line.name}
              </Link>
              <span className={classes.under}>
                {[line.concept, line.formation].filter(Boolean).join(' · ')}
              </span>
              <span className={classes.underState}>
                <SignedState line={line} />
              </span>
            </th>
            <td data-column="concept">{line.concept}</td>
            <td data-column="formation">{line.formation}</td>
            <td data-column="signed">
              <SignedState line={line} />
            </td>
            {working && (
              <>
                <td data-column="findings">
                  {line.openFindings !== null && <FindingCounts counts={line.openFindings} />}
                </td>
                <td data-column="comments">
                  {line.openComments !== null && line.openComments > 0 ? (
                    <span className={classes.comments}>
                      <IconMessage size={15} aria-hidden />
                      {line.openComments}
                      <span className={classes.hidden}> open</span>
                    </span>
                  ) : (
                    <span className={classes.none}>none</span>
                  )}
                </td>
              </>
            )}
            <td data-column="updated">
              <Time at={line.updatedAt} />
            </td>
            <td data-column="more">
              <PlayMenu
                line={line}
                actions={playActions(props.role, line)}
                onChoose={(action) => props.onChoose(line, action)}
              />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
