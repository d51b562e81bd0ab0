import { Buffer } from 'node:buffer';
import { STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import type { Problem } from '@stemline/protocol/problem';

/** How long who was answered may take to hang up as well, milliseconds. */
const patienceMs = 2_000;

/** Answers where there is no HTTP response to write to, and hangs up. */
export function answerOnSocket(socket: Duplex, problem: Problem): void {
  const body = JSON.stringify(problem);
  // Nothing else ends a connection whose other side stays silent now. At once would cut off the answer.
  const late = setTimeout(() => socket.destroy(), patienceMs);
  socket.once('close', () => clearTimeout(late));
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
