import { createServer, type Server } from 'node:http';
import type { Duplex } from 'node:stream';
import { getRequestListener, RequestError } from '@hono/node-server';
import { ApiProblem, type ProblemKind, problemResponse } from '../api/problem.ts';
import { answerOnSocket } from './answer-on-socket.ts';

type Fetch = Parameters<typeof getRequestListener>[0];

/** The HTTP server of an app; what never becomes a request of the app's is answered with a problem too. */
export function httpServer(fetch: Fetch): Server {
  // The listener looks for the host itself, and answers in our way where there is none.
  const options = { requireHostHeader: false };
  const server = createServer(options, getRequestListener(fetch, { errorHandler: answerUnread }));
  server.on('clientError', (error: NodeJS.ErrnoException, socket: Duplex) => {
    // Nobody is there any more, or an answer has begun.
    if (error.code === 'ECONNRESET' || !socket.writable) socket.destroy();
    else answerOnSocket(socket, unreadable(error.code).problem);
  });
  return server;
}

const kinds: Readonly<Record<string, ProblemKind>> = {
  HPE_HEADER_OVERFLOW: 'headersTooLarge',
  ERR_HTTP_REQUEST_TIMEOUT: 'tooSlow',
};

const unreadable = (code = ''): ApiProblem =>
  new ApiProblem(kinds[code] ?? 'malformed', 'This is not a request that can be read.', {
    mend: 'Send a well-formed HTTP request.',
  });

function answerUnread(error: unknown): Response {
  if (error instanceof RequestError) return problemResponse(unreadable());
  return problemResponse(new ApiProblem('broken', 'Something went wrong on our side.'));
}
