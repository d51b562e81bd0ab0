import { Button, Group, Stack, Textarea } from '@mantine/core';
import { useForm } from '@mantine/form';
import { commentTextSchema } from '@stemline/protocol/api/comments';
import type { UseMutationResult } from '@tanstack/react-query';
import { type KeyboardEvent, useEffect, useRef } from 'react';
import { ProblemNotice } from '../common/problem-notice.tsx';
import { useKeptWords } from '../common/use-kept-words.ts';

/** One field and one button; Ctrl or Cmd with Enter sends. What was typed stays until it is taken. */
export function WriteBox<Input>(props: {
  /** Whose words are kept apart from others' until they are sent. */
  place: string;
  label: string;
  action: string;
  write: UseMutationResult<void, Error, Input>;
  input: (text: string) => Input;
  /** What it begins with. */
  text?: string;
  onWritten?: () => void;
  /** It may be given up, and what was typed with it. */
  onCancel?: () => void;
  /** It took the place of the button that had the focus. */
  autoFocus?: boolean;
}) {
  const kept = useKeptWords(props.place);
  const fields = useForm({
    initialValues: { text: kept.text ?? props.text ?? '' },
    validate: { text: problemWith },
    onValuesChange: ({ text }) => kept.keep(text),
  });
  const field = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    if (props.autoFocus) field.current?.focus();
  }, [props.autoFocus]);
  const send = fields.onSubmit(({ text }) =>
    props.write.mutate(props.input(text.trim()), {
      onSuccess: () => {
        fields.setValues({ text: props.text ?? '' });
        kept.drop();
        props.onWritten?.();
      },
    }),
  );
  const cancel = () => {
    kept.drop();
    props.onCancel?.();
  };
  const onKeyDown = (event: KeyboardEvent<HTMLTextAreaElement>) => {
    if (event.key !== 'Enter' || !(event.ctrlKey || event.metaKey)) return;
    event.preventDefault();
    send();
  };
  return (
    <form onSubmit={send}>
      <Stack gap={6}>
        <Textarea
          label={props.label}
          autosize
          minRows={2}
          maxRows={10}
          ref={field}
          onKeyDown={onKeyDown}
          {...fields.getInputProps('text')}
        />
        <ProblemNotice error={props.write.error} />
        <Group justify="flex-end" gap="xs">
          {props.onCancel && (
            <Button size="xs" variant="default" onClick={cancel}>
              Cancel
            </Button>
          )}
          <Button type="submit" size="xs" loading={props.write.isPending}>
            {props.action}
          </Button>
        </Group>
      </Stack>
    </form>
  );
}

/** What stands in the way of a comment, for the field. */
function problemWith(text: string): string | null {
  const read = commentTextSchema.safeParse(text);
  return read.success ? null : (read.error.issues[0]?.message ?? null);
}
