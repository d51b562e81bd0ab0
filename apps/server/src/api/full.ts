import {
  maxBoardsOfStaff,
  maxCommentsOfThread,
  maxLooksOfStaff,
  maxOpenInvitations,
  maxStaffsOfHeadCoach,
  maxThreadsOfBoard,
} from '@stemline/protocol/amounts';
import { ApiProblem } from './problem.ts';

/** The most there may be, what it is, and what whoever wants one more can do. */
const bounds = {
  boards: [
    maxBoardsOfStaff,
    'plays in a book',
    'Found a staff for what comes, and take over what you need by export and import.',
  ],
  looks: [maxLooksOfStaff, 'looks on a shelf', 'Take one off the shelf first.'],
  threads: [
    maxThreadsOfBoard,
    'threads of comments on a play',
    'Answer in one that is there, or duplicate the play: a copy begins without them.',
  ],
  comments: [maxCommentsOfThread, 'comments in a thread', 'Begin a new thread.'],
  staffs: [
    maxStaffsOfHeadCoach,
    'staffs of which you are head coach',
    'Make somebody else head coach of one of them, and take another role there.',
  ],
  invitations: [maxOpenInvitations, 'open invitations', 'Withdraw one that nobody will use.'],
} as const satisfies Record<string, readonly [number, string, string]>;

/**
 * Throws where there is no room for one more beside these. To be counted under the lock that whoever makes
 * another has to hold: of two at once only one is the last.
 */
export function mustFit(what: keyof typeof bounds, there: number): void {
  const [most, words, mend] = bounds[what];
  if (there >= most)
    throw new ApiProblem('full', `There are ${there} ${words}; ${most} is the most.`, { mend });
}
