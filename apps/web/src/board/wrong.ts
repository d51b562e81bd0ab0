import type { EditResult } from '@stemline/board/edit';

/** What is wrong with an edit in one line, or null: what a field shows under itself. */
export const wrongOf = (result: EditResult): string | null => (result.ok ? null : result.error.why);
