/** The head of /openapi.json. */
export const description = {
  openapi: '3.1.0',
  info: {
    title: 'Stemline',
    version: '0.1.0',
    description:
      'A staff’s play boards, comments and sign-off. Sign in at /api/auth/sign-in/email; the session is a cookie. A board’s live document is edited over its WebSocket, /rooms/{board}. Every error is problem+json (RFC 9457). A route’s x-right names the right it asks for.',
  },
};
