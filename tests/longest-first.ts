import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** They start servers, which their size does not show. */
const long = [
  'tests/rooms/soak/soak.test.ts',
  'tests/rooms/faults.test.ts',
  'tests/rooms/two-processes.test.ts',
  'apps/server/src/backup/backup.test.ts',
  'tests/rooms/fresh-clone.test.ts',
  'apps/server/src/embedded/postgres.test.ts',
  'tests/rooms/cluster.test.ts',
];

/**
 * Vitest takes the longest first where it has run before, else the largest. So in a fresh clone the soak, which
 * is small, began last, and one core waited for it.
 */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const place = ({ moduleId }: TestSpecification): number => {
      const at = long.findIndex((path) => moduleId.endsWith(`/${path}`));
      return at < 0 ? long.length : at;
    };
    return sorted.sort((a, b) => place(a) - place(b));
  }
}
