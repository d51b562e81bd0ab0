import { createServer, type IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import { createProxyServer } from 'http-proxy-3';
import { CannotStart } from '../cannot-start.ts';

export interface FrontDoor {
  url: string;
  /** Nobody new gets in; sockets stay, for the servers to say goodbye over. */
  shut(): void;
  /** Cuts what is left. */
  end(): void;
}

/**
 * One port for several servers: each request and each WebSocket goes to the next of those that serve now.
 * For one machine; `docker-compose.yml` has a real proxy, which keeps a board's sockets together.
 */
export async function openFrontDoor(
  { HOST, PORT }: { HOST: string; PORT: number },
  servers: () => readonly string[],
): Promise<FrontDoor> {
  const proxy = createProxyServer({ xfwd: true });
  const sockets = new Set<Socket>();
  let turn = 0;
  const next = (): string | null => {
    const serving = servers();
    turn += 1;
    return serving[turn % serving.length] ?? null;
  };
  proxy.on('error', (_error, _request, answer) => {
    if (answer instanceof ServerResponse) unavailable(answer);
    else answer.destroy();
  });
  const server = createServer((request, response) => {
    const target = next();
    if (isOfOneServer(request.url)) notHere(response);
    else if (target === null) unavailable(response);
    else proxy.web(request, response, { target });
  });
  server.on('upgrade', (request: IncomingMessage, socket: Socket, head: Buffer) => {
    // A client that goes in the middle of it is no fault of ours.
    socket.on('error', () => socket.destroy());
    sockets.add(socket);
    socket.once('close', () => sockets.delete(socket));
    const target = next();
    if (target === null)
      socket.end('HTTP/1.1 503 Service Unavailable\r\nConnection: close\r\n\r\n');
    else proxy.ws(request, socket, head, { target });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', (error) => {
      reject(
        new CannotStart(
          `The cluster cannot listen on ${HOST}:${PORT} (${error.message}): stop what listens there, or set PORT.`,
          { cause: error },
        ),
      );
    });
    server.listen(PORT, HOST, resolve);
  });
  const { port } = server.address() as AddressInfo;
  const host = HOST === '0.0.0.0' || HOST === '::' ? 'localhost' : HOST;
  return {
    url: `http://${host}:${port}`,
    shut() {
      server.close();
      server.closeIdleConnections();
    },
    end() {
      server.closeAllConnections();
      for (const socket of sockets) socket.destroy();
    },
  };
}

/** Metrics: through this door they would be those of whichever server's turn it is. */
function isOfOneServer(url = '/'): boolean {
  const [path = ''] = url.split('?');
  try {
    return decodeURIComponent(path).endsWith('/metrics');
  } catch {
    // The server says what is wrong with it.
    return false;
  }
}

function notHere(response: ServerResponse): void {
  response.writeHead(404, { 'content-type': 'application/problem+json' });
  response.end(
    JSON.stringify({
      type: 'urn:stemline:problem:notFound',
      title: 'Each server has metrics of its own',
      status: 404,
      detail: 'Ask each server at its own address; the cluster names them when it starts.',
    }),
  );
}

function unavailable(response: ServerResponse): void {
  if (response.headersSent) {
    response.destroy();
    return;
  }
  response.writeHead(503, { 'content-type': 'application/problem+json', 'retry-after': '1' });
  response.end(
    JSON.stringify({
      type: 'urn:stemline:problem:notReady',
      title: 'No server can be reached',
      status: 503,
      detail: 'The servers behind this address are starting or stopping; try again in a moment.',
    }),
  );
}
