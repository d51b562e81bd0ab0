import { type Me, type Membership, meSchema } from '@stemline/protocol/api/staffs';
import { queryOptions, useQuery } from '@tanstack/react-query';
import { answer, client } from './client.ts';
import { keys } from './keys.ts';

export const meQuery = queryOptions({
  queryKey: keys.me,
  queryFn: () => answer(meSchema, client.api.me.$get()),
  staleTime: 60_000,
});

export const useMe = () => useQuery(meQuery);

export const membershipOf = (me: Me | undefined, staffId: string): Membership | undefined =>
  me?.memberships.find((membership) => membership.staffId === staffId);
