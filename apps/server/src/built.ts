import { join } from 'node:path';
import { projectRoot } from './env.ts';

/** What build.mjs makes, each of which a process or a thread begins with. */
type Built =
  | 'archive-thread'
  | 'check'
  | 'backup'
  | 'cluster'
  | 'main'
  | 'restore'
  | 'rule-check-thread';

export const built = (name: Built): string => join(projectRoot, `apps/server/dist/${name}.js`);

/** What Node is given besides, so that errors tell lines of the sources. */
export const mapped = '--enable-source-maps';
