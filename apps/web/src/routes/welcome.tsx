import { Button, Stack, TextInput } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { newStaffSchema } from '@stemline/protocol/api/staffs';
import { getRouteApi, useNavigate } from '@tanstack/react-router';
import { useMe } from '../api/me.ts';
import { useCreateStaff } from '../api/staff.ts';
import { Page } from '../common/page.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Section } from '../common/section.tsx';
import { Frame } from '../frame/frame.tsx';
import { ImportStaff } from '../members/import-staff.tsx';
import { OpenInvitation } from '../members/open-invitation.tsx';

const route = getRouteApi('/inside/welcome');

/** For somebody on no staff yet, and for whoever starts another one. */
export function Welcome() {
  const { me: known } = route.useRouteContext();
  const me = useMe().data ?? known;
  const navigate = useNavigate();
  const create = useCreateStaff();
  const fields = useForm({
    initialValues: { name: '' },
    validate: schemaResolver(newStaffSchema, { sync: true }),
  });
  const first = me.memberships.length === 0;
  return (
    <Frame me={me}>
      <Page
        title={first ? `Welcome, ${me.user.name}` : 'New staff'}
        about={
          first
            ? 'You are on no staff yet. Start one, or open the link a head coach gave you.'
            : undefined
        }
        width="reading"
      >
        <Section title="Start a staff">
          <form
            onSubmit={fields.onSubmit((typed) =>
              create.mutate(typed.name, {
                onSuccess: (membership) =>
                  void navigate({
                    to: '/staffs/$staffId',
                    params: { staffId: membership.staffId },
                  }),
              }),
            )}
          >
            <Stack gap="sm" maw={420} align="flex-start">
              <TextInput
                label="Name of the staff"
                description="As your coaches say it, such as the school and the level."
                required
                w="100%"
                {...fields.getInputProps('name')}
              />
              <ProblemNotice error={create.error} />
              <Button type="submit" loading={create.isPending}>
                Start this staff
              </Button>
            </Stack>
          </form>
        </Section>
        <Section title="Bring a staff along">
          <ImportStaff />
        </Section>
        {first && (
          <Section title="Join a staff">
            <OpenInvitation />
          </Section>
        )}
      </Page>
    </Frame>
  );
}
