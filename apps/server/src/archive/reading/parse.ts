import { contentHash } from '@stemline/board/canonical';
import { createBoardState } from '@stemline/board/create';
import {
  type ArchivedBoard,
  type StaffArchive,
  staffArchiveSchema,
} from '@stemline/protocol/api/archive';
import { ApiProblem, unfitting } from '../../api/problem.ts';
import { storableJson } from '../../http/storable-json.ts';

/** Values in an archive: one of 32 MiB that is as full of them as ours are has 2.8 million. */
const maxValues = 4_000_000;

export interface ParsedArchive {
  archive: StaffArchive;
  /** The document of each board. */
  states: readonly Uint8Array<ArrayBuffer>[];
}

/**
 * Takes an archive apart and looks at every place of it. Throws a `malformed` or an `invalid` problem,
 * the latter with the place: also for a play that no board can hold, and for a signed version that was
 * changed after it was signed.
 */
export function parseArchive(bytes: Uint8Array): ParsedArchive {
  const read = staffArchiveSchema.safeParse(
    storableJson(new TextDecoder().decode(bytes), maxValues),
  );
  if (!read.success) throw unfitting('body', read.error.issues);
  const archive = read.data;
  const states = archive.boards.map(stateOf);
  for (const [n, { changes }] of archive.boards.entries())
    for (const [m, { content, hash }] of changes.entries())
      if (contentHash(content) !== hash)
        throw unfit(
          `body.boards.${n}.changes.${m}`,
          `what was sent up as “${content.play.name}” is not what it was then: its hash differs`,
        );
  return { archive, states };
}

const unfit = (path: string, message: string): ApiProblem =>
  new ApiProblem('invalid', `${path}: ${message}`, { where: [{ path, message }] });

function stateOf({ content }: ArchivedBoard, n: number): Uint8Array<ArrayBuffer> {
  try {
    return Uint8Array.from(createBoardState(content.play, content.notes));
  } catch (error) {
    throw unfit(`body.boards.${n}.content`, error instanceof Error ? error.message : String(error));
  }
}
