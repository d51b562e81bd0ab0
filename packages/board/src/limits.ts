/** How much one board may hold. A merge of two honest edits must stay far below each of these. */

/** Players on the board of a play. */
export const maxPlayers = 11;
/**
 * Players a document may hold: two coaches who change the formation at once leave the players of
 * both. The board then shows eleven and names the rest, and nobody's edit is refused.
 */
export const maxStoredPlayers = 33;
/** Spots, routes, motions and cards of a document, those of players who are gone counted. */
export const maxStoredOfPlayers = 100;
/** Rows, and branches, of one read card. */
export const maxRowsOfCard = 2000;
export const maxBranchesOfCard = 60;
/** Rows, and branches, of all cards of a document. */
export const maxStoredRows = 4000;
export const maxStoredBranches = 1000;
/** UTF-16 units of all notes of a board. */
export const maxNotesLength = 100_000;
/** UTF-16 units of one run of text with the same marks. */
export const maxNoteTextLength = 20_000;
/** Paragraphs, lists, items and so on in the notes. */
export const maxNoteNodes = 5000;
/** Lists within lists within quotes. */
export const maxNoteDepth = 16;
/** UTF-16 units of an order key; orders are spaced afresh long before. */
export const maxOrderLength = 200;
/** Steps that one editor can take back. */
export const maxUndoSteps = 200;
/** Client ids that one update may bring: a coach who was offline over many reloads has one for each. */
export const maxWritersOfUpdate = 500;
/**
 * Client ids of one member on one board: one for each time that he opened it and wrote. Yjs goes through all
 * of a board's with every edit, here and in every browser: 4,000 cost an edit some 2 ms.
 */
export const maxWritersOfMember = 5_000;
/**
 * Pieces (Yjs' structs) that one update may bring: twice what the fullest board is made of. A frame full of
 * them would hold the server for as long as it takes to read each.
 */
export const maxStructsOfUpdate = 20_000;
/** Runs of deletions that one update may tell beyond those that the board has: an answer to a sync tells all it knows. */
export const maxDeletionsOfUpdate = 20_000;
/**
 * Steps that Yjs may take to bring one update in (work.ts). A coach who moved twenty players offline while
 * each was moved fifty thousand times by others makes it take a million.
 */
export const maxWorkOfUpdate = 1_000_000;
