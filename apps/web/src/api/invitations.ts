import {
  invitationPreviewSchema,
  invitationSchema,
  madeInvitationSchema,
  membershipSchema,
  type newInvitationSchema,
} from '@stemline/protocol/api/staffs';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';

export const useInvitations = (staffId: string, enabled: boolean) =>
  useQuery({
    enabled,
    queryKey: keys.invitations(staffId),
    queryFn: () =>
      answer(
        z.array(invitationSchema),
        client.api.staffs[':staff'].invitations.$get({ param: { staff: staffId } }),
      ),
  });

export function useInvite(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (invitation: z.infer<typeof newInvitationSchema>) =>
      answer(
        madeInvitationSchema,
        client.api.staffs[':staff'].invitations.$post({
          param: { staff: staffId },
          json: invitation,
        }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.staff(staffId) }),
  });
}

export function useWithdrawInvitation(staffId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (invitation: string) =>
      done(
        client.api.staffs[':staff'].invitations[':invitation'].$delete({
          param: { staff: staffId, invitation },
        }),
      ),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.staff(staffId) }),
  });
}

/** What a link offers, before it is accepted; needs no session. */
export const useInvitationPreview = (token: string) =>
  useQuery({
    queryKey: keys.invitation(token),
    queryFn: () =>
      answer(invitationPreviewSchema, client.api.invitations[':token'].$get({ param: { token } })),
  });

export function useAcceptInvitation() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (token: string) =>
      answer(membershipSchema, client.api.invitations[':token'].accept.$post({ param: { token } })),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.me }),
  });
}
