import { api } from '../context.ts';
import { ApiProblem } from '../problem.ts';
import * as contract from './contract.ts';

export const health = api()
  .openapi(contract.alive, (c) => c.json({ status: 'ok' as const }, 200))
  .openapi(contract.ready, async (c) => {
    const why = await c.var.deps.unready();
    if (why !== null) throw new ApiProblem('notReady', why, { headers: { 'retry-after': '5' } });
    const others = c.var.deps.otherServers();
    const servers = others && { ...others, since: others.since.toISOString() };
    return c.json({ status: 'ok' as const, ...(servers ? { servers } : {}) }, 200);
  });
