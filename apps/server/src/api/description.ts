import { type OpenAPIHono, z } from '@hono/zod-openapi';
import { boardPlaySchema, noteNodeSchema } from '@stemline/board/board-play';
import { staffArchiveSchema } from '@stemline/protocol/api/archive';
import { describedAccountRoutes } from '../accounts/contract.ts';
import type { AppEnv } from './context.ts';
import { pointer } from './named.ts';
import { sessionScheme } from './needs.ts';

const head = {
  openapi: '3.1.0',
  info: {
    title: 'Stemline',
    version: '0.1.0',
    description:
      'A staff’s play boards, comments and sign-off. Sign in at /api/auth/sign-in/email; the session is a cookie. A board’s live document is edited over its WebSocket, /rooms/{board}. Every error but those of /api/auth is problem+json (RFC 9457). A route’s x-right names the right it asks for.',
  },
};

/** Serves what the API is, as OpenAPI tells it, at /openapi.json. */
export function describe(app: OpenAPIHono<AppEnv>): void {
  const { openAPIRegistry: registry } = app;
  for (const route of describedAccountRoutes) registry.registerPath(route);
  registry.registerComponent('securitySchemes', sessionScheme, {
    type: 'apiKey',
    in: 'cookie',
    name: 'stemline.session_token',
  });
  const names = z.registry<{ id: string }>();
  names.add(boardPlaySchema, { id: 'BoardPlay' });
  names.add(noteNodeSchema, { id: 'NoteNode' });
  names.add(staffArchiveSchema, { id: 'StaffArchive' });
  for (const [name, schema] of Object.entries(z.toJSONSchema(names, { uri: pointer }).schemas)) {
    // Both are JSON Schema 2020-12; the two libraries type it each in its own way.
    registry.registerComponent('schemas', name, schema as object);
  }
  // Put together at the first question, when every route is there, and once: it takes a tenth of a second.
  let text: string | null = null;
  app.get('/openapi.json', (c) => {
    text ??= JSON.stringify(app.getOpenAPI31Document(head));
    return c.body(text, 200, { 'content-type': 'application/json' });
  });
}
