import type { Me, Membership } from '@stemline/protocol/api/staffs';
import { getRouteApi, notFound } from '@tanstack/react-router';
import { membershipOf, useMe } from '../api/me.ts';

const route = getRouteApi('/inside/staffs/$staffId');

/** The staff whose room is open and who the reader is in it, kept fresh while the page is open. */
export function useStaff(): { me: Me; staffId: string; membership: Membership } {
  const { staffId } = route.useParams();
  const { me: atLoad } = route.useRouteContext();
  const me = useMe().data ?? atLoad;
  const membership = membershipOf(me, staffId);
  if (membership === undefined) throw notFound();
  return { me, staffId, membership };
}
