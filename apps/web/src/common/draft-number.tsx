import { TextInput, type TextInputProps } from '@mantine/core';
import { useDraft } from './use-draft.ts';

interface DraftNumberProps
  extends Omit<TextInputProps, 'value' | 'onChange' | 'onBlur' | 'onFocus' | 'error'> {
  value: number | null;
  /** Writes the number; null stands for an empty field. Gives back what is wrong with it, or null. */
  keep: (value: number | null) => string | null;
  /** An empty field means something here. */
  mayBeEmpty?: boolean;
}

/** Reads a number as people type it, a comma for a point too; NaN when it is none. */
export function readNumber(text: string): number {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : Number.NaN;
}

/** A field for a number of something shared; see `useDraft`. */
export function DraftNumber({ value, keep, mayBeEmpty = false, ...rest }: DraftNumberProps) {
  const { error, ...draft } = useDraft(value === null ? '' : String(value), (text) => {
    if (text.trim() === '') return mayBeEmpty ? keep(null) : 'a number is needed here';
    const number = readNumber(text);
    return Number.isNaN(number) ? 'This is not a number.' : keep(number);
  });
  return <TextInput inputMode="decimal" autoComplete="off" {...rest} {...draft} error={error} />;
}
