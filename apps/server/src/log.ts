import pino, { type DestinationStream, type Level, type Logger } from 'pino';

/**
 * What a line may hold by accident, in a sentence of a library's or an address: what comes after the
 * first group is a secret.
 */
const secrets = [
  // A session cookie, with or without its signature.
  /(session_token=)[^;,\s"\\]+/gi,
  // A password inside a database's address.
  /(\/\/[^\s:/@"\\]+:)[^\s@"\\]+(?=@)/g,
  // A bearer token.
  /(\bbearer\s+)[^\s",\\]+/gi,
  // An invitation's link.
  /(\/invitations\/)[\w-]{20,}/g,
];

/** The last thing that happens to a line: none leaves with a secret in it. */
const withoutSecrets = (line: string): string =>
  secrets.reduce((text, secret) => text.replace(secret, '$1…'), line);

/** Of an error only its own words: what a library hangs on it may be a whole request or query. */
function wordsOf(error: unknown): unknown {
  if (!(error instanceof Error)) return { message: String(error) };
  const { name, message, stack, cause } = error;
  const code = 'code' in error ? { code: String(error.code) } : {};
  const why = cause === undefined ? {} : { cause: wordsOf(cause) };
  return { type: name, message, ...code, stack, ...why };
}

/**
 * The server's log: a line of JSON each. A line about a request carries its `requestId` (those of a
 * connection to a room that of its handshake), one about a board its `board`; secrets are in none.
 */
export const createLog = (level: Level | 'silent', to: DestinationStream): Logger =>
  pino({ level, serializers: { err: wordsOf }, hooks: { streamWrite: withoutSecrets } }, to);
