import { type KeyboardEvent, useState } from 'react';

export interface Draft {
  value: string;
  /** Why what was typed cannot be kept; null while it can. */
  error: string | null;
  onChange: (event: { currentTarget: { value: string } }) => void;
  onFocus: () => void;
  onBlur: () => void;
  onKeyDown: (event: KeyboardEvent<HTMLInputElement | HTMLTextAreaElement>) => void;
}

/**
 * A field of something shared. What is typed stays on this page until the field is left or Enter is
 * pressed; until then nobody else's change overwrites it. Escape gives it up. `keep` writes the
 * text and says what is wrong with it, or null.
 */
export function useDraft(shared: string, keep: (text: string) => string | null): Draft {
  const [typed, setTyped] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const give = (): void => {
    if (typed === null) return;
    const wrong = typed === shared ? null : keep(typed);
    setError(wrong);
    if (wrong === null) setTyped(null);
  };
  return {
    value: typed ?? shared,
    error,
    onChange: (event) => setTyped(event.currentTarget.value),
    onFocus: () => setTyped((text) => text ?? shared),
    onBlur: give,
    onKeyDown: (event) => {
      if (event.key === 'Enter' && !(event.currentTarget instanceof HTMLTextAreaElement)) {
        event.preventDefault();
        event.currentTarget.blur();
      }
      if (event.key === 'Escape') {
        event.stopPropagation();
        setTyped(null);
        setError(null);
        const field = event.currentTarget;
        // The blur must not keep what was just given up: let React forget it first.
        queueMicrotask(() => field.blur());
      }
    },
  };
}
