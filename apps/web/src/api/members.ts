import { type memberChangeSchema, memberSchema } from '@stemline/protocol/api/staffs';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';

export const useMembers = (staffId: string) =>
  useQuery({
    queryKey: keys.members(staffId),
    queryFn: () =>
      answer(
        z.array(memberSchema),
        client.api.staffs[':staff'].members.$get({ param: { staff: staffId } }),
      ),
  });

export function useChangeMember(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({
      memberId,
      change,
    }: {
      memberId: string;
      change: z.infer<typeof memberChangeSchema>;
    }) =>
      done(
        client.api.staffs[':staff'].members[':member'].$patch({
          param: { staff: staffId, member: memberId },
          json: change,
        }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.staff(staffId) }),
  });
}

export function useRemoveMember(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (memberId: string) =>
      done(
        client.api.staffs[':staff'].members[':member'].$delete({
          param: { staff: staffId, member: memberId },
        }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.staff(staffId) }),
  });
}
