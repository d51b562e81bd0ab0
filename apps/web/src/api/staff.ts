import { maxArchiveBytes, type StaffArchive } from '@stemline/protocol/api/archive';
import { auditEventSchema, membershipSchema } from '@stemline/protocol/api/staffs';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { ApiProblem } from './api-problem.ts';
import { answer, client, reach } from './client.ts';
import { keys } from './keys.ts';

export function useCreateStaff() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (name: string) =>
      answer(membershipSchema, client.api.staffs.$post({ json: { name } })),
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.me }),
  });
}

/** The whole staff as a file, offered to be saved. */
export const useExportStaff = (staffId: string) =>
  useMutation({
    mutationFn: async () => {
      const response = await reach(
        client.api.staffs[':staff'].export.$get({ param: { staff: staffId } }),
      );
      const named = /filename="([^"]+)"/.exec(response.headers.get('content-disposition') ?? '');
      const url = URL.createObjectURL(await response.blob());
      const link = document.createElement('a');
      link.href = url;
      link.download = named?.[1] ?? 'staff.json';
      link.click();
      URL.revokeObjectURL(url);
    },
  });

/** A staff of one's own from such a file. */
export function useImportStaff() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: async (file: File) => {
      if (file.size > maxArchiveBytes) throw unreadableFile(`${file.name} is too large.`);
      return await answer(
        membershipSchema,
        client.api.staffs.import.$post({ json: readArchive(await file.text()) }),
      );
    },
    onSuccess: () => queries.invalidateQueries({ queryKey: keys.me }),
  });
}

function readArchive(text: string): StaffArchive {
  try {
    // The server checks it, place by place.
    return JSON.parse(text);
  } catch {
    throw unreadableFile('This file is not JSON.');
  }
}

const unreadableFile = (detail: string): ApiProblem =>
  new ApiProblem({
    type: 'about:blank',
    title: 'No archive of a staff',
    status: 422,
    detail,
    mend: 'Choose a file that was saved with Export staff.',
  });

export const useAudit = (staffId: string, enabled: boolean) =>
  useQuery({
    enabled,
    queryKey: keys.audit(staffId),
    queryFn: () =>
      answer(
        z.array(auditEventSchema),
        client.api.staffs[':staff'].audit.$get({ param: { staff: staffId } }),
      ),
  });
