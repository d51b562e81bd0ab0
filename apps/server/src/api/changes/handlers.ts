import { boardPlaySchema } from '@stemline/board/board-play';
import { changeLines } from '../../signoff/change-line.ts';
import { decide, withdraw } from '../../signoff/decide.ts';
import { sendUp } from '../../signoff/send-up.ts';
import { takeBackWaiver, waive } from '../../signoff/waive.ts';
import { api, type Deps } from '../context.ts';
import { notFound } from '../problem.ts';
import * as contract from './contract.ts';

async function changeLine(deps: Deps, id: string) {
  const [line] = await changeLines(deps, { id });
  if (!line) throw notFound('change');
  return line;
}

export const changes = api()
  .openapi(contract.listOfBoard, async (c) =>
    c.json(await changeLines(c.var.deps, { boardId: c.var.board.id }), 200),
  )
  .openapi(contract.listOfStaff, async (c) => {
    const { state } = c.req.valid('query');
    return c.json(
      await changeLines(c.var.deps, {
        board: { staffId: c.var.standing.staffId },
        ...(state ? { state } : {}),
      }),
      200,
    );
  })
  .openapi(contract.sentPlay, async (c) => {
    const { change: id } = c.req.valid('param');
    const { play } = await c.var.deps.prisma.installChange.findUniqueOrThrow({
      where: { id },
      select: { play: true },
    });
    return c.json({ content: boardPlaySchema.parse(play) }, 200);
  })
  .openapi(contract.sendUp, async (c) => {
    const { board, standing, deps } = c.var;
    const id = await sendUp(deps, standing, board, c.req.valid('json').message);
    await deps.rooms.publish(board.id, { kind: 'changes' });
    return c.json(await changeLine(deps, id), 201);
  })
  .openapi(contract.decide, async (c) => {
    const { board, standing, deps } = c.var;
    const { change: id } = c.req.valid('param');
    await decide(deps.prisma, standing, board.id, id, c.req.valid('json'));
    await deps.rooms.publish(board.id, { kind: 'changes' });
    return c.json(await changeLine(deps, id), 200);
  })
  .openapi(contract.withdraw, async (c) => {
    const { board, standing, deps } = c.var;
    const { change: id } = c.req.valid('param');
    await withdraw(deps.prisma, standing, board.id, id);
    await deps.rooms.publish(board.id, { kind: 'changes' });
    return c.json(await changeLine(deps, id), 200);
  })
  .openapi(contract.waive, async (c) => {
    const { board, standing, deps } = c.var;
    await waive(deps, standing, board, c.req.valid('json'));
    await deps.rooms.publish(board.id, { kind: 'changes' });
    return c.body(null, 204);
  })
  .openapi(contract.unwaive, async (c) => {
    const { board, standing, deps } = c.var;
    await takeBackWaiver(deps.prisma, standing, board, c.req.valid('query').findingId);
    await deps.rooms.publish(board.id, { kind: 'changes' });
    return c.body(null, 204);
  });
