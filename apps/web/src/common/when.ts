const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;

/** "just now", "12 min ago", "yesterday", "Tue 3:10 PM", "Mar 4", "Mar 4, 2025": short enough for a table. */
export function shortWhen(iso: string, now: Date, locale = 'en-US'): string {
  const at = new Date(iso);
  const ago = now.getTime() - at.getTime();
  if (ago < minute) return 'just now';
  if (ago < hour) return `${Math.floor(ago / minute)} min ago`;
  if (sameDay(at, now)) return clock(at, locale);
  if (sameDay(at, new Date(now.getTime() - day))) return `yesterday ${clock(at, locale)}`;
  if (ago < 6 * day)
    return `${at.toLocaleDateString(locale, { weekday: 'short' })} ${clock(at, locale)}`;
  const year = at.getFullYear() === now.getFullYear() ? {} : { year: 'numeric' as const };
  return at.toLocaleDateString(locale, { month: 'short', day: 'numeric', ...year });
}

/** The whole date and time, for a tooltip and for a screen reader. */
export const longWhen = (iso: string, locale = 'en-US'): string =>
  new Date(iso).toLocaleString(locale, { dateStyle: 'full', timeStyle: 'short' });

/** Date and time as they stay true on paper: "Mar 4, 2026, 3:10 PM". */
export const paperWhen = (iso: string, locale = 'en-US'): string =>
  new Date(iso).toLocaleString(locale, { dateStyle: 'medium', timeStyle: 'short' });

const clock = (at: Date, locale: string): string =>
  at.toLocaleTimeString(locale, { hour: 'numeric', minute: '2-digit' });

const sameDay = (a: Date, b: Date): boolean =>
  a.getFullYear() === b.getFullYear() &&
  a.getMonth() === b.getMonth() &&
  a.getDate() === b.getDate();
