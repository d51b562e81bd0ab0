import { useMemo } from 'react';
import { useHello, usePresence } from '../live/hooks.ts';
import { presenceColors } from './presence-color.ts';

/** The colours of all on this board, this coach himself included. */
export function usePresenceColors(): ReadonlyMap<string, string> {
  const colleagues = usePresence();
  const hello = useHello();
  const here = [...new Set([hello?.member.id ?? '', ...colleagues.map(({ member }) => member.id)])]
    .sort()
    .join(' ');
  return useMemo(() => presenceColors(here.split(' ')), [here]);
}
