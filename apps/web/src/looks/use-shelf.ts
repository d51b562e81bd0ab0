import { builtInLooks, type LookRecipe } from '@stemline/football/shelf';
import { useMemo } from 'react';
import { useLooks } from '../api/looks.ts';

export interface Shelf {
  looks: readonly LookRecipe[];
  /** The staff's own shelf has not come yet, or cannot be reached: these are the looks everybody has. */
  borrowed: boolean;
  error: Error | null;
}

/** The staff's looks in their order; the looks everybody has until they are there. */
export function useShelf(staffId: string): Shelf {
  const { data, error } = useLooks(staffId);
  return useMemo(
    () => ({
      looks: data
        ? [...data].sort((a, b) => a.order - b.order).map(({ recipe }) => recipe)
        : builtInLooks,
      borrowed: data === undefined,
      error,
    }),
    [data, error],
  );
}
