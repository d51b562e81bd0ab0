import type { QueryClient } from '@tanstack/react-query';
import {
  createRootRouteWithContext,
  createRoute,
  createRouter,
  lazyRouteComponent,
  notFound,
  Outlet,
  redirect,
} from '@tanstack/react-router';
import { z } from 'zod';
import { ApiProblem } from './api/api-problem.ts';
import { membershipOf, meQuery } from './api/me.ts';
import { sectionSchema } from './board/section.ts';
import { homeStaff, rememberStaff } from './frame/current-staff.ts';
import { BrokenPage, NothingAtThisAddress } from './frame/dead-ends.tsx';
import { localPath } from './frame/local-path.ts';
import { Opening } from './frame/opening.tsx';
import { Book } from './routes/book.tsx';
import { CreateAccount } from './routes/create-account.tsx';
import { Join } from './routes/join.tsx';
import { Members } from './routes/members.tsx';
import { SignIn } from './routes/sign-in.tsx';
import { StaffRoom } from './routes/staff-room.tsx';
import { Waiting } from './routes/waiting.tsx';
import { Welcome } from './routes/welcome.tsx';

const root = createRootRouteWithContext<{ queries: QueryClient }>()({
  component: Outlet,
  notFoundComponent: NothingAtThisAddress,
});

/** `next`: where to go on after signing in; only ever a path of our own. */
const doorwaySearch = z.object({ next: localPath.optional().catch(undefined) });

const signIn = createRoute({
  getParentRoute: () => root,
  path: '/sign-in',
  validateSearch: doorwaySearch,
  component: SignIn,
});
const createAccount = createRoute({
  getParentRoute: () => root,
  path: '/create-account',
  validateSearch: doorwaySearch,
  component: CreateAccount,
});
const join = createRoute({ getParentRoute: () => root, path: '/join/$token', component: Join });

/** Everything that needs a session. */
const inside = createRoute({
  getParentRoute: () => root,
  id: 'inside',
  beforeLoad: async ({ context, location }) => {
    try {
      return { me: await context.queries.ensureQueryData(meQuery) };
    } catch (error) {
      if (error instanceof ApiProblem && error.status === 401) {
        throw redirect({
          to: '/sign-in',
          search: location.href === '/' ? {} : { next: location.href },
        });
      }
      throw error;
    }
  },
  component: Outlet,
});

const home = createRoute({
  getParentRoute: () => inside,
  path: '/',
  beforeLoad: ({ context }) => {
    const membership = homeStaff(context.me);
    throw membership === undefined
      ? redirect({ to: '/welcome' })
      : redirect({ to: '/staffs/$staffId', params: { staffId: membership.staffId } });
  },
});
const welcome = createRoute({ getParentRoute: () => inside, path: '/welcome', component: Welcome });

const staff = createRoute({
  getParentRoute: () => inside,
  path: '/staffs/$staffId',
  beforeLoad: ({ context, params }) => {
    if (membershipOf(context.me, params.staffId) === undefined) throw notFound();
    rememberStaff(params.staffId);
  },
  component: StaffRoom,
  notFoundComponent: NothingAtThisAddress,
});
const book = createRoute({ getParentRoute: () => staff, path: '/', component: Book });
const looks = createRoute({
  getParentRoute: () => staff,
  path: '/looks',
  component: lazyRouteComponent(() => import('./routes/look-shelf.tsx'), 'LookShelf'),
});
const waiting = createRoute({ getParentRoute: () => staff, path: '/waiting', component: Waiting });
const members = createRoute({ getParentRoute: () => staff, path: '/members', component: Members });

const board = createRoute({
  getParentRoute: () => inside,
  path: '/boards/$boardId',
  validateSearch: z.object({ section: sectionSchema.optional().catch(undefined) }),
  component: lazyRouteComponent(() => import('./routes/board-screen.tsx'), 'BoardScreen'),
});
const history = createRoute({
  getParentRoute: () => inside,
  path: '/boards/$boardId/history',
  validateSearch: z.object({ time: z.iso.datetime().optional().catch(undefined) }),
  component: lazyRouteComponent(() => import('./routes/board-history.tsx'), 'BoardHistory'),
});
const signed = createRoute({
  getParentRoute: () => inside,
  path: '/boards/$boardId/signed',
  component: lazyRouteComponent(() => import('./routes/signed-play.tsx'), 'SignedPlay'),
});
const version = createRoute({
  getParentRoute: () => inside,
  path: '/versions/$versionId',
  component: lazyRouteComponent(() => import('./routes/version.tsx'), 'VersionScreen'),
});

export function makeRouter(queries: QueryClient) {
  return createRouter({
    routeTree: root.addChildren([
      signIn,
      createAccount,
      join,
      inside.addChildren([
        home,
        welcome,
        staff.addChildren([book, looks, waiting, members]),
        board,
        history,
        signed,
        version,
      ]),
    ]),
    context: { queries },
    defaultErrorComponent: BrokenPage,
    defaultPendingComponent: Opening,
    defaultPendingMs: 300,
    defaultPreload: 'intent',
    scrollRestoration: true,
  });
}

declare module '@tanstack/react-router' {
  interface Register {
    router: ReturnType<typeof makeRouter>;
  }
}
