/**
 * How much of a board's past is kept: within so many days every edit, then the end of every sitting,
 * then the end of every day (UTC), and before that nothing but what all of it came to. Signed-off
 * versions are kept for good, whatever their age.
 */
export const historyKept = [
  { keeps: 'edit', days: 10 },
  { keeps: 'sitting', days: 30 },
  { keeps: 'day', days: 200 },
] as const;

/** Edits with no longer pause between them than this are one sitting, minutes. */
export const sittingPauseMinutes = 45;

/** Sittings that one reading of a history lists. */
export const maxSittingsListed = 300;
