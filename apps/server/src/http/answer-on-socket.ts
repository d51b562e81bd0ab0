import { Buffer } from 'node:buffer';
import { STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import type { Problem } from '@stemline/protocol/problem';

/** Answers where there is no HTTP response to write to, and hangs up. */
export function answerOnSocket(socket: Duplex, problem: Problem): void {
  const body = JSON.stringify(problem);
  socket.end(
    [
      `HTTP/1.1 ${problem.status} ${STATUS_CODES[problem.status]}`,
      'Connection: close',
      'Content-Type: application/problem+json',
      'Cache-Control: no-store',
      `Content-Length: ${Buffer.byteLength(body)}`,
      '',
      body,
    ].join('\r\n'),
  );
}
