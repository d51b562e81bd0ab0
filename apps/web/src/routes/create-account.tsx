import { Button, PasswordInput, Stack, TextInput } from '@mantine/core';
import { schemaResolver, useForm } from '@mantine/form';
import { type NewAccount, newAccountSchema, passwordLength } from '@stemline/protocol/api/account';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { getRouteApi, useNavigate } from '@tanstack/react-router';
import { keys } from '../api/keys.ts';
import { createAccount } from '../api/session.ts';
import { TextLink } from '../common/links.tsx';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { Doorway } from '../frame/doorway.tsx';

const route = getRouteApi('/create-account');

export function CreateAccount() {
  const { next } = route.useSearch();
  const navigate = useNavigate();
  const queries = useQueryClient();
  const fields = useForm({
    initialValues: { name: '', email: '', password: '' },
    validate: schemaResolver(newAccountSchema, { sync: true }),
  });
  const create = useMutation({
    mutationFn: (typed: NewAccount) => createAccount(typed.name, typed.email, typed.password),
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
          <TextLink to="/sign-in" search={{ next }} inherit>
            Sign in
          </TextLink>
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
            description={`${passwordLength.min} characters or more.`}
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
