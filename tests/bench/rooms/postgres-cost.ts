import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Clock ticks of a second in /proc, on every Linux that Node runs on. */
const ticksPerSecond = 100;

/** Processor milliseconds that a PostgreSQL and its living children have used so far. */
export async function postgresCpuMs(dataDir: string): Promise<number> {
  const pidFile = join(dataDir, 'postgres', 'cluster', 'postmaster.pid');
  const postmaster = Number((await readFile(pidFile, 'utf8')).split('\n')[0]);
  let ticks = 0;
  for (const entry of await readdir('/proc')) {
    if (!/^\d+$/.test(entry)) continue;
    // A process that ends while we look has nothing more to say.
    const stat = await readFile(`/proc/${entry}/stat`, 'utf8').catch(() => '');
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    if (Number(entry) !== postmaster && Number(fields[1]) !== postmaster) continue;
    ticks += Number(fields[11]) + Number(fields[12]);
  }
  return (ticks * 1000) / ticksPerSecond;
}
