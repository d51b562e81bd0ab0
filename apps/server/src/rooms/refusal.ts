import { type CloseCode, close } from '@stemline/protocol/close';
import type { Problem } from '@stemline/protocol/problem';

/** Why somebody does not get in, or may not stay. One table: status, close code and words of each. */
export const refusals = {
  malformed: {
    status: 400,
    close: close.malformed,
    title: 'Not a room request',
    detail: 'A room is opened by a WebSocket handshake on /rooms/<board>.',
    mend: 'Open the board in the web app, or connect with a WebSocket client.',
  },
  foreignOrigin: {
    status: 403,
    close: close.notAllowed,
    title: 'Foreign origin',
    detail: 'This page does not belong to this Stemline.',
    mend: 'Open Stemline under its own address; PUBLIC_URL names the addresses that count.',
  },
  notSignedIn: {
    status: 401,
    close: close.notSignedIn,
    title: 'Not signed in',
    detail: 'A room needs a session, and this one is over or was never there.',
    mend: 'Sign in again.',
  },
  notAllowed: {
    status: 403,
    close: close.notAllowed,
    title: 'Not allowed',
    detail: 'Your role does not open working boards.',
    mend: 'Look at the signed-off version, or ask the head coach.',
  },
  accessEnded: {
    status: 403,
    close: close.accessChanged,
    title: 'Access ended',
    detail: 'You may no longer open this board.',
    mend: 'Ask the head coach of the staff.',
  },
  unknownBoard: {
    status: 404,
    close: close.unknownBoard,
    title: 'No such board',
    detail: 'There is no board under this address on your staffs.',
    mend: 'Open it from the book of your staff.',
  },
  unknownPath: {
    status: 404,
    close: close.unknownBoard,
    title: 'No room here',
    detail: 'Rooms live under /rooms/<board>.',
    mend: 'Connect to /rooms/ followed by the id of a board.',
  },
  tooMany: {
    status: 429,
    close: close.tooMany,
    title: 'Too many requests',
    detail: 'Too many connections or requests came from here.',
    mend: 'Close what you do not need and wait a minute.',
  },
  busy: {
    status: 503,
    close: close.restarting,
    title: 'Busy',
    detail: 'More connections wait for a decision than this server takes.',
    mend: 'Try again in a moment.',
  },
  storeAway: {
    status: 503,
    close: close.restarting,
    title: 'The store does not answer',
    detail: 'Who you are and what you may open cannot be looked up now.',
    mend: 'Try again in a moment; your unsent edits stay with you.',
  },
  restarting: {
    status: 503,
    close: close.restarting,
    title: 'The server is going down',
    detail: 'This server takes no new connections.',
    mend: 'Try again in a moment; your unsent edits stay with you.',
  },
  slowReader: {
    status: 503,
    close: close.slowReader,
    title: 'Too far behind',
    detail: 'More was waiting for this connection than a room keeps.',
    mend: 'It connects again by itself and catches up.',
  },
  unfinished: {
    status: 408,
    close: close.slowReader,
    title: 'A message was not finished',
    detail: 'A message had begun, and its end did not come.',
    mend: 'It connects again by itself; look whether the line is very slow.',
  },
  presenceSpoofed: {
    status: 403,
    close: close.presenceSpoofed,
    title: 'Presence of somebody else',
    detail: 'This connection spoke for another member.',
    mend: 'Load the page again.',
  },
  outdatedCopy: {
    status: 409,
    close: close.outdatedCopy,
    title: 'Your copy is outdated',
    detail: 'The board was tidied while you were away. What you did meanwhile is on it and saved.',
    mend: 'Open the board afresh; nothing has to be done again.',
  },
  loadFailed: {
    status: 503,
    close: close.loadFailed,
    title: 'The board could not be loaded',
    detail: 'The board is stored, but could not be read now.',
    mend: 'Try again in a moment.',
  },
} as const satisfies Record<
  string,
  { status: number; close: CloseCode; title: string; detail: string; mend: string }
>;

export type Refusal = keyof typeof refusals;

export function problemOf(refusal: Refusal): Problem {
  const { status, title, detail, mend } = refusals[refusal];
  return { type: `urn:stemline:problem:${refusal}`, title, status, detail, mend };
}
