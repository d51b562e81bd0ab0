import { Button, Group, Stack } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { getRouteApi, useNavigate } from '@tanstack/react-router';
import { ApiProblem } from '../api/api-problem.ts';
import { useAcceptInvitation, useInvitationPreview } from '../api/invitations.ts';
import { meQuery } from '../api/me.ts';
import { ButtonLink } from '../common/links.tsx';
import { LoadingLines } from '../common/loading.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Doorway } from '../frame/doorway.tsx';
import { roleAbout, roleWords } from '../members/role-words.ts';

const route = getRouteApi('/join/$token');

/** What the link offers; whoever is not signed in yet comes back here after that. */
export function Join() {
  const { token } = route.useParams();
  const navigate = useNavigate();
  const preview = useInvitationPreview(token);
  const me = useQuery({ ...meQuery, retry: false });
  const accept = useAcceptInvitation();
  const here = `/join/${token}`;

  if (preview.isPending || me.isPending) {
    return (
      <Doorway title="Invitation">
        <LoadingLines what="the invitation" lines={2} />
      </Doorway>
    );
  }
  if (preview.isError) {
    return (
      <Doorway title="Invitation">
        <ProblemNotice error={preview.error} onRetry={() => void preview.refetch()} />
      </Doorway>
    );
  }
  const signedOut = me.error instanceof ApiProblem && me.error.status === 401;
  return (
    <Doorway
      title={`Join ${preview.data.staffName}`}
      about={
        <>
          As {roleWords(preview.data.role, preview.data.group).toLowerCase()}.{' '}
          {roleAbout[preview.data.role]}
        </>
      }
    >
      <Stack gap="sm">
        {me.isSuccess && (
          <>
            <p style={{ margin: 0 }}>
              You are signed in as {me.data.user.name} ({me.data.user.email}).
            </p>
            <Button
              loading={accept.isPending}
              onClick={() =>
                accept.mutate(token, {
                  onSuccess: (membership) =>
                    void navigate({
                      to: '/staffs/$staffId',
                      params: { staffId: membership.staffId },
                    }),
                })
              }
            >
              Accept invitation
            </Button>
            <ProblemNotice error={accept.error} />
          </>
        )}
        {signedOut && (
          <Group grow>
            <ButtonLink to="/create-account" search={{ next: here }}>
              Create account
            </ButtonLink>
            <ButtonLink to="/sign-in" search={{ next: here }} variant="default">
              Sign in
            </ButtonLink>
          </Group>
        )}
        {me.isError && !signedOut && (
          <ProblemNotice error={me.error} onRetry={() => void me.refetch()} />
        )}
      </Stack>
    </Doorway>
  );
}
