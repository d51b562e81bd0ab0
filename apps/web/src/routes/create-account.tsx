import { Anchor, Button, PasswordInput, Stack, TextInput } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { getRouteApi, Link, useNavigate } from '@tanstack/react-router';
import { z } from 'zod';
import { keys } from '../api/keys.ts';
import { createAccount } from '../api/session.ts';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Doorway } from '../frame/doorway.tsx';

const route = getRouteApi('/create-account');

const form = z.object({
  name: z.string().trim().min(1, 'your staff will see this name').max(80),
  email: z.email('an e-mail address looks like name@school.org'),
  password: z
    .string()
    .min(8, 'use at least eight characters')
    .max(128, 'use at most 128 characters'),
});

export function CreateAccount() {
  const { next } = route.useSearch();
  const navigate = useNavigate();
  const queries = useQueryClient();
  const fields = useForm({
    initialValues: { name: '', email: '', password: '' },
    validate: schemaResolver(form, { sync: true }),
  });
  const create = useMutation({
    mutationFn: (typed: z.infer<typeof form>) =>
      createAccount(typed.name, typed.email, typed.password),
    onSuccess: async () => {
      queries.removeQueries({ queryKey: keys.me });
      await navigate({ href: next ?? '/' });
    },
  });
  return (
    <Doorway
      title="Create an account"
      beside={
        <>
          Have an account?{' '}
          <Anchor component={Link} to="/sign-in" search={{ next }} inherit>
            Sign in
          </Anchor>
        </>
      }
    >
      <form onSubmit={fields.onSubmit((typed) => create.mutate(typed))} noValidate>
        <Stack gap="sm">
          <TextInput label="Name" autoComplete="name" required {...fields.getInputProps('name')} />
          <TextInput
            label="E-mail"
            type="email"
            autoComplete="username"
            required
            {...fields.getInputProps('email')}
          />
          <PasswordInput
            label="Password"
            description="Eight characters or more."
            autoComplete="new-password"
            required
            {...fields.getInputProps('password')}
          />
          <ProblemNotice error={create.error} />
          <Button type="submit" loading={create.isPending} mt="xs">
            Create account
          </Button>
        </Stack>
      </form>
    </Doorway>
  );
}
