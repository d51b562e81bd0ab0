import { type newLookSchema, staffLookSchema } from '@stemline/protocol/api/looks';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { answer, client, done } from './client.ts';
import { keys } from './keys.ts';

type Recipe = z.infer<typeof newLookSchema>['recipe'];

export const useLooks = (staffId: string) =>
  useQuery({
    queryKey: keys.looks(staffId),
    queryFn: () =>
      answer(
        z.array(staffLookSchema),
        client.api.staffs[':staff'].looks.$get({ param: { staff: staffId } }),
      ),
  });

function useShelfWrite<Input>(staffId: string, write: (input: Input) => Promise<void>) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: write,
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.looks(staffId) }),
  });
}

export const useAddLook = (staffId: string) =>
  useShelfWrite(staffId, (recipe: Recipe) =>
    done(client.api.staffs[':staff'].looks.$post({ param: { staff: staffId }, json: { recipe } })),
  );

export const useChangeLook = (staffId: string) =>
  useShelfWrite(staffId, ({ lookId, recipe }: { lookId: string; recipe: Recipe }) =>
    done(
      client.api.staffs[':staff'].looks[':look'].$put({
        param: { staff: staffId, look: lookId },
        json: { recipe },
      }),
    ),
  );

/** Puts a look behind another, or to the front of the shelf. */
export const useMoveLook = (staffId: string) =>
  useShelfWrite(staffId, ({ lookId, after }: { lookId: string; after: string | null }) =>
    done(
      client.api.staffs[':staff'].looks[':look'].move.$post({
        param: { staff: staffId, look: lookId },
        json: { after },
      }),
    ),
  );

export const useDeleteLook = (staffId: string) =>
  useShelfWrite(staffId, (lookId: string) =>
    done(
      client.api.staffs[':staff'].looks[':look'].$delete({
        param: { staff: staffId, look: lookId },
      }),
    ),
  );
