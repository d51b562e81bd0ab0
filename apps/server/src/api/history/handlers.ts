import { describeChanges } from '@stemline/board/diff';
import { project } from '@stemline/board/project';
import { boardAt } from '../../history/past.ts';
import { notThereYet, restoreBoard } from '../../history/restore.ts';
import { sittingsOf, toldSitting } from '../../history/sittings.ts';
import { api } from '../context.ts';
import * as contract from './contract.ts';

export const history = api()
  .openapi(contract.list, async (c) =>
    c.json(await sittingsOf(c.var.deps.prisma, c.var.board.id), 200),
  )
  .openapi(contract.past, async (c) => {
    const { deps, board } = c.var;
    const past = await boardAt(deps.prisma, board.id, new Date(c.req.valid('query').time));
    if (!past) throw notThereYet(board);
    const content = project(past.ydoc).board;
    past.ydoc.destroy();
    const now = await boardAt(deps.prisma, board.id, null);
    const changes = now ? describeChanges(project(now.ydoc).board, content) : [];
    now?.ydoc.destroy();
    const sitting = await toldSitting(deps.prisma, board.id, past.time, content);
    return c.json({ time: past.time.toISOString(), content, changes, sitting }, 200);
  })
  .openapi(contract.restore, async (c) => {
    const time = new Date(c.req.valid('json').time);
    const restored = await restoreBoard(c.var.deps, c.var.standing, c.var.board, time);
    return c.json({ time: restored.toISOString() }, 200);
  });
