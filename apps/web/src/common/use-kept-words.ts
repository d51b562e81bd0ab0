import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { keys } from '../api/keys.ts';

export interface KeptWords {
  /** Null: there are none. */
  readonly text: string | null;
  keep(text: string): void;
  drop(): void;
}

/**
 * What somebody wrote in one place and has not sent. It stays while the page is open, whatever else he
 * looks at meanwhile; when he signs out it goes with all that was read.
 */
export function useKeptWords(place: string): KeptWords {
  const queries = useQueryClient();
  const queryKey = keys.unsent(place);
  return {
    text: queries.getQueryData<string>(queryKey) ?? null,
    keep: (text) => {
      if (text === '') queries.removeQueries({ queryKey });
      else queries.setQueryData(queryKey, text);
    },
    drop: () => queries.removeQueries({ queryKey }),
  };
}

/** Asks, at this moment, whether something is kept in a place. */
export function useHasKeptWords(): (place: string) => boolean {
  const queries = useQueryClient();
  return (place) => queries.getQueryData(keys.unsent(place)) !== undefined;
}

/** Whether a field that opens at a button is open: because it was asked for, or for what is kept in it. */
export function useWriting(place: string) {
  const isKept = useHasKeptWords()(place);
  return useState<false | 'asked' | 'again'>(isKept ? 'again' : false);
}
