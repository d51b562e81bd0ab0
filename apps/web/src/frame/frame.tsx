import type { Me } from '@stemline/protocol/api/staffs';
import { may } from '@stemline/protocol/permissions';
import { Link } from '@tanstack/react-router';
import type { ReactNode } from 'react';
import { useWaiting } from '../api/changes.ts';
import { membershipOf } from '../api/me.ts';
import { Wordmark } from '../theme/mark.tsx';
import { AccountMenu } from './account-menu.tsx';
import { contentId } from './content.ts';
import classes from './frame.module.css';
import { PlaceLink } from './place-link.tsx';
import { placesFor } from './places.ts';
import { StaffSwitcher } from './staff-switcher.tsx';

/**
 * What every signed-in screen stands in: who, which staff, which places. `fill` gives the content
 * exactly what is left of the window, for a board; otherwise the page scrolls.
 */
export function Frame(props: {
  me: Me;
  staffId?: string | undefined;
  fill?: boolean;
  children: ReactNode;
}) {
  const membership =
    props.staffId === undefined ? undefined : membershipOf(props.me, props.staffId);
  const decides = membership !== undefined && may(membership.role, 'change.decide');
  const waiting = useWaiting(membership?.staffId ?? '', { enabled: decides });
  return (
    <div className={classes.frame} data-fill={props.fill === true || undefined}>
      <a href={`#${contentId}`} className={classes.skip}>
        Skip to content
      </a>
      <header className={classes.bar}>
        <Link to="/" className={classes.home} aria-label="Stemline, home">
          <Wordmark />
        </Link>
        <StaffSwitcher me={props.me} staffId={props.staffId} />
        {membership !== undefined && (
          <nav aria-label="Places" className={classes.places}>
            {placesFor(membership.role).map((place) => (
              <PlaceLink
                key={place.id}
                place={place}
                staffId={membership.staffId}
                count={place.id === 'waiting' ? (waiting.data?.length ?? 0) : 0}
              />
            ))}
          </nav>
        )}
        <div className={classes.account}>
          <AccountMenu me={props.me} />
        </div>
      </header>
      <main id={contentId} tabIndex={-1} className={classes.content}>
        {props.children}
      </main>
    </div>
  );
}
