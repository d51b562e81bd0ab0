import { createHash } from 'node:crypto';
import { once } from 'node:events';
import { createReadStream } from 'node:fs';
import { type FileHandle, link, open, rm } from 'node:fs/promises';
import { finished } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import { z } from 'zod';
import { CannotStart } from '../cannot-start.ts';

/**
 * A backup is gzipped text, one JSON value a line: a head, every row of every table in an order in
 * which they can be put back, and a foot that says how many there were and what all of it hashes to.
 */
const headSchema = z.object({
  format: z.literal('stemline-backup'),
  version: z.literal(1),
  at: z.iso.datetime(),
  /** Every migration of the database, oldest first. */
  migrations: z.array(z.string()),
});
export type BackupHead = z.infer<typeof headSchema>;

/** `row` is what Postgres' `to_jsonb` makes of it. */
const rowSchema = z.object({ table: z.string(), row: z.record(z.string(), z.unknown()) });

const footSchema = z.object({
  rows: z.record(z.string(), z.number().int()),
  /** Of every line before, each with its line feed; hex. */
  sha256: z.string(),
});

const beforeRow = (table: string): string => `{"table":${JSON.stringify(table)},"row":`;

export interface BackupWriter {
  /** `row`: as JSON text. */
  row(table: string, row: string): Promise<void>;
  /** Writes the foot, gives the file its name and says how many rows of each table are in it. */
  end(): Promise<Record<string, number>>;
  /** Leaves nothing behind. */
  abandon(): Promise<void>;
}

/** Only the owner reads it: it holds what the database holds. Refuses a name that is taken. */
export async function writeBackup(file: string, head: BackupHead): Promise<BackupWriter> {
  const half = `${file}.half`;
  const opened = await openAnew(half);
  const zip = createGzip();
  const out = zip.pipe(opened.createWriteStream());
  out.on('error', (error) => zip.destroy(error));
  const hash = createHash('sha256');
  const rows: Record<string, number> = {};
  const line = async (text: string): Promise<void> => {
    hash.update(text).update('\n');
    if (!zip.write(`${text}\n`)) await once(zip, 'drain');
  };
  await line(JSON.stringify(head));
  return {
    async row(table, row) {
      rows[table] = (rows[table] ?? 0) + 1;
      await line(`${beforeRow(table)}${row}}`);
    },
    async end() {
      zip.end(`${JSON.stringify({ rows, sha256: hash.digest('hex') })}\n`);
      await finished(out);
      await link(half, file);
      await rm(half);
      return rows;
    },
    async abandon() {
      zip.destroy();
      out.destroy();
      await rm(half, { force: true });
    },
  };
}

/** Throws `CannotStart` where no file can be made. */
async function openAnew(file: string): Promise<FileHandle> {
  try {
    await rm(file, { force: true });
    return await open(file, 'wx', 0o600);
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? error.code : error;
    throw new CannotStart(
      `${file} cannot be written (${why}): name a file in a folder that you may write to.`,
      {
        cause: error,
      },
    );
  }
}

/**
 * Reads a backup from its beginning to its end; `row` is JSON text. Throws `CannotStart` when it is none, is cut off, or was
 * changed; rows may have been handed over by then.
 */
export async function readBackup(
  file: string,
  onRow: (table: string, row: string) => Promise<void> | void = () => undefined,
): Promise<BackupHead> {
  const hash = createHash('sha256');
  const rows: Record<string, number> = {};
  let head: BackupHead | null = null;
  let foot: z.infer<typeof footSchema> | null = null;
  try {
    for await (const text of linesOf(file)) {
      if (foot) throw new NoBackup('there is more after its end');
      const value: unknown = JSON.parse(text);
      if (!head) {
        head = headSchema.parse(value);
      } else {
        const read = z.union([rowSchema, footSchema]).parse(value);
        if ('sha256' in read) {
          foot = read;
          continue;
        }
        rows[read.table] = (rows[read.table] ?? 0) + 1;
        // As it was written: numbers may be longer than those of JavaScript.
        await onRow(read.table, text.slice(beforeRow(read.table).length, -1));
      }
      hash.update(text).update('\n');
    }
    if (!head || !foot) throw new NoBackup('it is cut off');
    if (foot.sha256 !== hash.digest('hex')) throw new NoBackup('it was changed');
    if (JSON.stringify(sorted(foot.rows)) !== JSON.stringify(sorted(rows)))
      throw new NoBackup('rows are missing');
    return head;
  } catch (error) {
    if (!isUnreadable(error)) throw error;
    const why = error instanceof z.ZodError ? 'it is no backup of Stemline' : error.message;
    throw new CannotStart(`The backup ${file} cannot be used: ${why}.`, { cause: error });
  }
}

class NoBackup extends Error {}

/** Of the file; what goes wrong with a row on its way into the database is not. */
const isUnreadable = (error: unknown): error is Error =>
  error instanceof NoBackup ||
  error instanceof z.ZodError ||
  error instanceof SyntaxError ||
  (error instanceof Error && 'code' in error && /^(Z_|ENOENT|EACCES|EISDIR)/.test(`${error.code}`));

async function* linesOf(file: string): AsyncGenerator<string> {
  const raw = createReadStream(file);
  const text = raw.pipe(createGunzip()).setEncoding('utf8');
  raw.on('error', (error) => text.destroy(error));
  let begun: string[] = [];
  for await (const chunk of text as AsyncIterable<string>) {
    const [first = '', ...others] = chunk.split('\n');
    begun.push(first);
    for (const next of others) {
      yield begun.join('');
      begun = [next];
    }
  }
  if (begun.join('') !== '') yield begun.join('');
}

const sorted = (rows: Record<string, number>) =>
  Object.entries(rows).sort(([a], [b]) => (a < b ? -1 : 1));
