import { close } from '@stemline/protocol/close';

export interface ClosedWords {
  title: string;
  detail: string;
  /** Whether opening the board again can help. */
  again: boolean;
}

const words: Record<number, ClosedWords> = {
  [close.malformed]: {
    title: 'The room did not understand this page',
    detail: 'It sent something that cannot be read. Load the page again.',
    again: true,
  },
  [close.notSignedIn]: {
    title: 'You are signed out',
    detail: 'Sign in again. What you changed is kept in this browser until then.',
    again: false,
  },
  [close.notAllowed]: {
    title: 'This board is not open to you',
    detail: 'Ask the head coach or a coordinator to let you in.',
    again: false,
  },
  [close.unknownBoard]: {
    title: 'There is no such board',
    detail: 'It may have been removed. The book lists the boards of your staff.',
    again: false,
  },
  [close.presenceSpoofed]: {
    title: 'The room closed this connection',
    detail: 'It carried another coach’s cursor. Open the board again.',
    again: true,
  },
  [close.accessChanged]: {
    title: 'What you may do here has changed',
    detail: 'Open the board again to go on with your present rights.',
    again: true,
  },
  [close.clientTooOld]: {
    title: 'This page is older than the board',
    detail: 'Load the page again to get the newest version of Stemline. Unsent work is kept.',
    again: false,
  },
  [close.refused]: {
    title: 'An edit was not taken',
    detail: 'Open the board again to see it as the others do.',
    again: true,
  },
  [close.outdatedCopy]: {
    title: 'The board was tidied while you were away',
    detail: 'What you did meanwhile is on it. Open the board again.',
    again: true,
  },
  [close.tooLarge]: {
    title: 'This edit is too large for the board',
    detail: 'Make it smaller, then open the board again.',
    again: true,
  },
  [close.tooMany]: {
    title: 'Too much at once',
    detail:
      'The room received more than it can take from one page. Wait a moment, then open the board again.',
    again: true,
  },
};

/** What a coach is told when the room will not have this page back. */
export const closedWords = (code: number): ClosedWords =>
  words[code] ?? {
    title: 'The room closed',
    detail: `It gave the code ${code}. Open the board again.`,
    again: true,
  };
