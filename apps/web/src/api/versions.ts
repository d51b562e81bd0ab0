import { versionLineSchema, versionSchema } from '@stemline/protocol/api/signoff';
import { useQuery } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client } from './client.ts';
import { keys } from './keys.ts';

export const useVersions = (boardId: string) =>
  useQuery({
    queryKey: keys.versions(boardId),
    queryFn: () =>
      answer(
        z.array(versionLineSchema),
        client.api.boards[':board'].versions.$get({ param: { board: boardId } }),
      ),
  });

/** A signed-off version never changes, so it is read once. */
export const useVersion = (versionId: string) =>
  useQuery({
    queryKey: keys.version(versionId),
    staleTime: Number.POSITIVE_INFINITY,
    queryFn: () =>
      answer(
        versionSchema,
        client.api.versions[':version'].$get({ param: { version: versionId } }),
      ),
  });

/** The newest signed-off version of a play: what a player learns from. */
export const useSigned = (boardId: string) =>
  useQuery({
    queryKey: keys.signed(boardId),
    queryFn: () =>
      answer(versionSchema, client.api.boards[':board'].signed.$get({ param: { board: boardId } })),
  });
