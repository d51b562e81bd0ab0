import { Buffer } from 'node:buffer';

/** Postgres has no NUL in text, and UTF-8 no half characters; one board's name must not stop everybody's commit. */
export const storedText = (text: string): string =>
  Buffer.from(text.replaceAll('\0', '')).toString('utf8');
