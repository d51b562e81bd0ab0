// How much there may be of what people make one by one. An archive holds as much, so that whatever there is
// can be taken elsewhere whole.

/** Plays in a staff's book, archived ones included. */
export const maxBoardsOfStaff = 1_000;
/** Looks on a staff's shelf: every play is checked against each. */
export const maxLooksOfStaff = 500;
/** Threads of comments on a play. */
export const maxThreadsOfBoard = 2_000;
/** Comments in a thread, deleted ones included. */
export const maxCommentsOfThread = 1_000;
/** Staffs of which one person is head coach. */
export const maxStaffsOfHeadCoach = 50;
/** Invitations of a staff that are open at a time. */
export const maxOpenInvitations = 200;
