// A client that knows nothing of this project's code: signs in, moves a player on a board, waits until
// that is saved, and prints where he stands. Plain y-websocket, over a WebSocket that sends the cookie.
//   node tests/rooms/outside/client.mjs http://127.0.0.1:4600 marcus@alderpoint.example try-stemline
import * as decoding from 'lib0/decoding';
import { WebSocket } from 'ws';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';

const [origin, email, password] = process.argv.slice(2);

async function ask(path, cookie, body) {
  const answer = await fetch(`${origin}${path}`, {
    headers: { 'content-type': 'application/json', ...(cookie ? { cookie } : {}) },
    ...(body ? { method: 'POST', body: JSON.stringify(body) } : {}),
  });
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return answer;
}

const signedIn = await ask('/api/auth/sign-in/email', null, { email, password });
const cookie = signedIn.headers
  .getSetCookie()
  .map((line) => line.split(';')[0])
  .join('; ');
const me = await (await ask('/api/me', cookie)).json();
const boards = await (await ask(`/api/staffs/${me.memberships[0].staffId}/boards`, cookie)).json();
const board = boards[0].id;

const ydoc = new Y.Doc();
const provider = new WebsocketProvider(`${origin.replace('http', 'ws')}/rooms`, board, ydoc, {
  disableBc: true,
  WebSocketPolyfill: class extends WebSocket {
    constructor(url, protocols) {
      super(url, protocols, { headers: { cookie } });
    }
  },
});
// The room's own messages: unknown ones are only reported, these are worth hearing.
let saved = 0;
provider.messageHandlers[101] = (_encoder, decoder) => {
  saved = Y.decodeStateVector(decoding.readVarUint8Array(decoder)).get(ydoc.clientID) ?? 0;
};
provider.messageHandlers[102] = (_encoder, decoder) => {
  throw new Error(`refused: ${decoding.readVarString(decoder)}`);
};
for (const kind of [100, 103, 104]) provider.messageHandlers[kind] = () => undefined;

await new Promise((resolve) => provider.once('sync', resolve));
const spots = ydoc.getMap('spots');
spots.set('H', [-8.5, -1.5]);
while (saved < Y.getState(ydoc.store, ydoc.clientID))
  await new Promise((resolve) => setTimeout(resolve, 10));
process.stdout.write(`${JSON.stringify({ board, H: spots.get('H') })}\n`);
provider.destroy();
process.exit(0);
