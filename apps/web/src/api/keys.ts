/** Every query key of the app: what one screen invalidates, another must find by the same words. */
export const keys = {
  me: ['me'] as const,
  invitation: (token: string) => ['invitation', token] as const,
  staff: (staff: string) => ['staff', staff] as const,
  boards: (staff: string) => ['staff', staff, 'boards'] as const,
  book: (staff: string, archived: boolean) =>
    ['staff', staff, 'boards', archived ? 'archived' : 'working'] as const,
  members: (staff: string) => ['staff', staff, 'members'] as const,
  invitations: (staff: string) => ['staff', staff, 'invitations'] as const,
  looks: (staff: string) => ['staff', staff, 'looks'] as const,
  audit: (staff: string) => ['staff', staff, 'audit'] as const,
  waiting: (staff: string) => ['staff', staff, 'changes'] as const,
  board: (board: string) => ['board', board] as const,
  comments: (board: string) => ['board', board, 'comments'] as const,
  changes: (board: string) => ['board', board, 'changes'] as const,
  // A sign-off makes a version, so whoever reads the changes again reads these too.
  versions: (board: string) => ['board', board, 'changes', 'versions'] as const,
  signed: (board: string) => ['board', board, 'changes', 'signed'] as const,
  letIn: (board: string) => ['board', board, 'let-in'] as const,
  findingHistory: (board: string) => ['board', board, 'finding-history'] as const,
  history: (board: string) => ['board', board, 'history'] as const,
  past: (board: string, time: string) => ['board', board, 'history', time] as const,
  sent: (change: string) => ['change', change] as const,
  version: (version: string) => ['version', version] as const,
  /** Words that were not sent yet; they never were the server's. */
  unsent: (place?: string) => ['unsent', ...(place === undefined ? [] : [place])] as const,
};
