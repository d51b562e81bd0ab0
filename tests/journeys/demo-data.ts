import type { TestProject } from 'vitest/node';
import { dropDataDir, newDataDir, startStemline } from './stemline.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** A store with the demo in it that nothing runs on: test files copy it (`demo-data-dir.ts`). */
    demoDataDir: string;
  }
}

/** Makes the demo once for all journeys: it takes longer than starting on a copy of it. */
export default async function setup(project: TestProject): Promise<() => void> {
  const dataDir = newDataDir();
  const stemline = await startStemline(dataDir);
  const code = await stemline.stop();
  if (code !== 0) throw new Error(`Stemline ended with ${code}:\n${stemline.printed()}`);
  project.provide('demoDataDir', dataDir);
  return () => dropDataDir(dataDir);
}
