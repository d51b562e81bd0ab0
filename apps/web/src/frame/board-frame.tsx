import type { Board } from '@stemline/protocol/api/boards';
import { getRouteApi } from '@tanstack/react-router';
import type { ReactNode } from 'react';
import { useMe } from '../api/me.ts';
import { Frame } from './frame.tsx';

const inside = getRouteApi('/inside');

/** The frame round a screen of one board or one version; its staff is known once the board is read. */
export function BoardFrame(props: {
  staffId: Board['staffId'] | undefined;
  fill?: boolean;
  children: ReactNode;
}) {
  const { me: atLoad } = inside.useRouteContext();
  const me = useMe().data ?? atLoad;
  return (
    <Frame me={me} staffId={props.staffId} fill={props.fill ?? false}>
      {props.children}
    </Frame>
  );
}
