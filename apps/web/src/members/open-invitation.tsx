import { Button, Stack, TextInput } from '@mantine/core';
import { useForm } from '@mantine/form';
import { useNavigate } from '@tanstack/react-router';
import { tokenIn } from './invitation-link.ts';

/** For an invitation that came by message and was not opened in this browser. */
export function OpenInvitation() {
  const navigate = useNavigate();
  const fields = useForm({
    initialValues: { link: '' },
    validate: {
      link: (typed) => (tokenIn(typed) === null ? 'paste the whole link you were given' : null),
    },
  });
  return (
    <form
      onSubmit={fields.onSubmit(({ link }) => {
        const token = tokenIn(link);
        if (token !== null) void navigate({ to: '/join/$token', params: { token } });
      })}
    >
      <Stack gap="sm" maw={420} align="flex-start">
        <TextInput
          label="Invitation link"
          description="A head coach or coordinator makes it on the Staff page."
          w="100%"
          {...fields.getInputProps('link')}
        />
        <Button type="submit" variant="default">
          Open invitation
        </Button>
      </Stack>
    </form>
  );
}
