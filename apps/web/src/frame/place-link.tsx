import { IconBook2, IconHourglassHigh, IconShield, IconUsersGroup } from '@tabler/icons-react';
import { Link } from '@tanstack/react-router';
import classes from './frame.module.css';
import type { Place } from './places.ts';

const icons = {
  book: IconBook2,
  looks: IconShield,
  waiting: IconHourglassHigh,
  staff: IconUsersGroup,
};

export function PlaceLink({
  place,
  staffId,
  count,
}: {
  place: Place;
  staffId: string;
  count: number;
}) {
  const Icon = icons[place.id];
  return (
    <Link
      to={place.to}
      params={{ staffId }}
      className={classes.place}
      activeOptions={{ exact: true }}
      activeProps={{ 'aria-current': 'page' }}
    >
      <Icon size={18} stroke={1.8} aria-hidden />
      <span>{place.label}</span>
      {count > 0 && (
        <span className={classes.count}>
          {count}
          <span className={classes.hidden}> to decide</span>
        </span>
      )}
    </Link>
  );
}
