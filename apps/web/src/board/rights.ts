import type { PlayerId } from '@stemline/football/ids';
import type { Play } from '@stemline/football/play';
import type { Hello } from '@stemline/protocol/message';
import { useMemo } from 'react';
import { useHello, usePlay } from '../live/hooks.ts';

/** What this coach may change here. The room decides; this only keeps the screen from offering more. */
export interface Rights {
  /** Anything at all. */
  any: boolean;
  /** Formation, situation, name: what belongs to no one player. */
  all: boolean;
  notes: boolean;
  player(id: PlayerId): boolean;
}

function rightsOf(hello: Hello | null, play: Play): Rights {
  if (!hello?.mayEdit) return { any: false, all: false, notes: false, player: () => false };
  const { positions } = hello;
  return {
    any: true,
    all: positions === null,
    notes: true,
    player: (id) => {
      if (positions === null) return true;
      const player = play.players.find((each) => each.id === id);
      return player !== undefined && positions.includes(player.position);
    },
  };
}

export function useRights(): Rights {
  const hello = useHello();
  const play = usePlay();
  return useMemo(() => rightsOf(hello, play), [hello, play]);
}
