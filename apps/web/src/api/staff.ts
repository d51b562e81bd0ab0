import { auditEventSchema, membershipSchema } from '@stemline/protocol/api/staffs';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client } from './client.ts';
import { keys } from './keys.ts';

export function useCreateStaff() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (name: string) =>
      answer(membershipSchema, client.api.staffs.$post({ json: { name } })),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.me }),
  });
}

export const useAudit = (staffId: string, enabled: boolean) =>
  useQuery({
    enabled,
    queryKey: keys.audit(staffId),
    queryFn: () =>
      answer(
        z.array(auditEventSchema),
        client.api.staffs[':staff'].audit.$get({ param: { staff: staffId } }),
      ),
  });
