import type { HttpBindings } from '@hono/node-server';
import { createMiddleware } from 'hono/factory';

/** Where the address is noted for those who see only headers. Whatever a client sends there is overwritten. */
export const addressHeader = 'x-stemline-address';

interface AddressEnv {
  Bindings: Partial<HttpBindings>;
  Variables: { address: string };
}

/** Whose request it is, by address: the socket's, or, behind a proxy of ours, the last one it names. */
export const clientAddress = (trustProxy: boolean) =>
  createMiddleware<AddressEnv>(async (c, next) => {
    const forwarded = trustProxy
      ? c.req.header('x-forwarded-for')?.split(',').at(-1)?.trim()
      : undefined;
    c.set('address', forwarded || (c.env.incoming?.socket.remoteAddress ?? 'unknown'));
    await next();
  });
