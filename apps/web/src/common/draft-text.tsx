import { TextInput, type TextInputProps } from '@mantine/core';
import { useDraft } from './use-draft.ts';

interface DraftTextProps
  extends Omit<TextInputProps, 'value' | 'onChange' | 'onBlur' | 'onFocus' | 'error'> {
  value: string;
  /** Writes the text; gives back what is wrong with it, or null. */
  keep: (text: string) => string | null;
}

/** A text field of something shared; see `useDraft`. */
export function DraftText({ value, keep, ...rest }: DraftTextProps) {
  const { error, ...draft } = useDraft(value, keep);
  return <TextInput {...rest} {...draft} error={error} />;
}
