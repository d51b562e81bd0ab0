import { QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { keys } from './api/keys.ts';
import { makeQueryClient } from './api/query-client.ts';
import { focusContent } from './frame/content.ts';
import { makeRouter } from './router.tsx';
import { Themed } from './theme/themed.tsx';

const queries = makeQueryClient(() => {
  queries.removeQueries({ queryKey: keys.me });
  void router.invalidate();
});
const router = makeRouter(queries);

router.subscribe('onRendered', ({ fromLocation, pathChanged }) => {
  if (fromLocation !== undefined && pathChanged) focusContent();
});

const root = document.getElementById('root');
if (root === null) throw new Error('index.html has no element with the id "root"');

createRoot(root).render(
  <StrictMode>
    <QueryClientProvider client={queries}>
      <Themed>
        <RouterProvider router={router} />
      </Themed>
    </QueryClientProvider>
  </StrictMode>,
);
