import { Button, PasswordInput, Stack, TextInput } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { emailSchema } from '@stemline/protocol/api/account';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { getRouteApi, useNavigate } from '@tanstack/react-router';
import { z } from 'zod';
import { keys } from '../api/keys.ts';
import { signIn } from '../api/session.ts';
import { TextLink } from '../common/links.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Doorway } from '../frame/doorway.tsx';

const route = getRouteApi('/sign-in');

const form = z.object({
  email: emailSchema,
  password: z.string().min(1, 'Type your password.'),
});

export function SignIn() {
  const { next } = route.useSearch();
  const navigate = useNavigate();
  const queries = useQueryClient();
  const fields = useForm({
    initialValues: { email: '', password: '' },
    validate: schemaResolver(form, { sync: true }),
  });
  const enter = useMutation({
    mutationFn: (typed: z.infer<typeof form>) => signIn(typed.email, typed.password),
    onSuccess: async () => {
      queries.removeQueries({ queryKey: keys.me });
      await navigate({ href: next ?? '/' });
    },
  });
  return (
    <Doorway
      title="Sign in"
      beside={
        <>
          New here?{' '}
          <TextLink to="/create-account" search={{ next }} inherit>
            Create an account
          </TextLink>
        </>
      }
    >
      <form onSubmit={fields.onSubmit((typed) => enter.mutate(typed))} noValidate>
        <Stack gap="sm">
          <TextInput
            label="E-mail"
            type="email"
            autoComplete="username"
            required
            {...fields.getInputProps('email')}
          />
          <PasswordInput
            label="Password"
            autoComplete="current-password"
            required
            {...fields.getInputProps('password')}
          />
          <ProblemNotice error={enter.error} />
          <Button type="submit" loading={enter.isPending} mt="xs">
            Sign in
          </Button>
        </Stack>
      </form>
    </Doorway>
  );
}
