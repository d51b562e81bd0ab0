import { requestId } from 'hono/request-id';
import { passwordPaths } from '../accounts/contract.ts';
import { accounts } from '../accounts/routes.ts';
import { clientAddress } from '../http/client-address.ts';
import { jsonBodies } from '../http/json-bodies.ts';
import { originCheck, sameOriginWrites } from '../http/origin.ts';
import { requestLimit } from '../http/request-limit.ts';
import { requestLog } from '../http/request-log.ts';
import { securityHeaders } from '../http/security-headers.ts';
import { webApp } from '../http/web-app.ts';
import { archive } from './archive/handlers.ts';
import { audit } from './audit/handlers.ts';
import { boards } from './boards/handlers.ts';
import { changes } from './changes/handlers.ts';
import { comments } from './comments/handlers.ts';
import { api, type Deps } from './context.ts';
import { describe } from './description.ts';
import { answerError } from './errors.ts';
import { health } from './health/handlers.ts';
import { history } from './history/handlers.ts';
import { invitations } from './invitations/handlers.ts';
import { looks } from './looks/handlers.ts';
import { me } from './me/handlers.ts';
import { members } from './members/handlers.ts';
import { metrics } from './metrics/handlers.ts';
import { bodiesOfTheSignedIn } from './needs.ts';
import { staffs } from './staffs/handlers.ts';
import { versions } from './versions/handlers.ts';

/** Everything that Stemline serves over HTTP. */
export function createApp(deps: Deps) {
  const base = api();
  base.onError(answerError);
  base.use(async (c, next) => {
    c.set('deps', deps);
    await next();
  });
  base.use(requestId({ headerName: '' }));
  base.use(clientAddress(deps.trustProxy));
  base.use(requestLog);
  base.use(securityHeaders);
  base.use(requestLimit(deps.requestsPerMinute));
  const passwords = requestLimit(deps.signInsPerMinute, 'sign-ins, sign-ups and new passwords');
  for (const path of passwordPaths) base.use(path, passwords);
  base.use(sameOriginWrites(originCheck(deps.publicUrl)));
  base.use('/api/*', bodiesOfTheSignedIn);
  base.use('/api/*', jsonBodies);

  const routes = base
    .route('/', health)
    .route('/', metrics)
    .route('/', me)
    .route('/', staffs)
    .route('/', archive)
    .route('/', members)
    .route('/', invitations)
    .route('/', boards)
    .route('/', history)
    .route('/', comments)
    .route('/', changes)
    .route('/', versions)
    .route('/', looks)
    .route('/', audit);

  routes.route('/', accounts);
  describe(routes);
  routes.route('/', webApp(deps.webFolder));
  return routes;
}
