const two = (n: number): string => String(n).padStart(2, '0');

/** A moment as a `datetime-local` field has it: the reader's own clock, to the minute. */
export function toLocal(iso: string): string {
  const at = new Date(iso);
  const date = [at.getFullYear(), two(at.getMonth() + 1), two(at.getDate())].join('-');
  return `${date}T${two(at.getHours())}:${two(at.getMinutes())}`;
}

/** The last moment of that minute, so that what was done in it counts; null while the field is incomplete. */
export function fromLocal(value: string): string | null {
  const at = new Date(value);
  return value === '' || Number.isNaN(at.getTime())
    ? null
    : new Date(at.getTime() + 59_999).toISOString();
}
