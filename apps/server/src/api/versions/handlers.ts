import { boardPlaySchema } from '@stemline/board/board-play';
import { may } from '@stemline/protocol/permissions';
import type { Standing } from '../../accounts/standing.ts';
import type { Version } from '../../generated/prisma/client.ts';
import { api } from '../context.ts';
import type { BoardHere } from '../needs.ts';
import { notFound } from '../problem.ts';
import * as contract from './contract.ts';

const line = (version: Omit<Version, 'play'>) => ({
  id: version.id,
  number: version.number,
  hash: version.hash,
  author: version.author,
  signer: version.signer,
  signedAt: version.signedAt.toISOString(),
});

/** A version is called what it was called when it was signed off. */
const whole = (version: Version) => {
  const content = boardPlaySchema.parse(version.play);
  return { ...line(version), boardId: version.boardId, boardName: content.play.name, content };
};

/** What is archived is out of the book, and who learns from the book has nothing of it. */
function mustBeInBook(board: BoardHere, { role }: Standing): void {
  if (board.archivedAt && !may(role, 'board.open'))
    throw notFound('version of a play in your book');
}

export const versions = api()
  .openapi(contract.list, async (c) => {
    mustBeInBook(c.var.board, c.var.standing);
    const found = await c.var.deps.prisma.version.findMany({
      where: { boardId: c.var.board.id },
      orderBy: { number: 'desc' },
      omit: { play: true },
    });
    return c.json(found.map(line), 200);
  })
  .openapi(contract.read, async (c) => {
    mustBeInBook(c.var.board, c.var.standing);
    const { version: id } = c.req.valid('param');
    return c.json(whole(await c.var.deps.prisma.version.findUniqueOrThrow({ where: { id } })), 200);
  })
  .openapi(contract.signed, async (c) => {
    mustBeInBook(c.var.board, c.var.standing);
    const newest = await c.var.deps.prisma.version.findFirst({
      where: { boardId: c.var.board.id },
      orderBy: { number: 'desc' },
    });
    if (!newest) throw notFound('signed-off version of this play');
    return c.json(whole(newest), 200);
  });
