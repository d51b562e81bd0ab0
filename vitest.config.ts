import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/longest-first.ts';

/** One project a kind of test: what the domain needs is nothing, what the server needs is a PostgreSQL. */
const setupFiles = ['tests/same-bytes.ts'];

export default defineConfig({
  test: {
    // Vitest leaves one core idle, of two that is half the time; the tests are what the machine is for meanwhile.
    maxWorkers: '100%',
    sequence: { sequencer: LongestFirst },
    // Files that share their modules are spared loading them, which took a third of the time.
    projects: [
      {
        test: {
          name: 'packages',
          isolate: false,
          include: ['packages/**/*.test.ts'],
          setupFiles,
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'published',
          isolate: false,
          include: ['tests/published/**/*.test.ts'],
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'web',
          isolate: false,
          include: ['apps/web/src/**/*.test.{ts,tsx}'],
          testTimeout: 30_000,
        },
      },
      {
        test: {
          name: 'server',
          isolate: false,
          include: ['apps/server/src/**/*.test.ts', 'tests/rooms/**/*.test.ts'],
          setupFiles,
          globalSetup: ['apps/server/src/testing/postgres.ts'],
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'journeys',
          include: ['tests/journeys/**/*.test.ts'],
          globalSetup: ['tests/journeys/demo-data.ts'],
          // Each file runs a whole Stemline and a browser: on two cores one after another is fastest.
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 180_000,
        },
      },
    ],
  },
});
