import type { createApp } from './app.ts';

/** The API's face for the typed client: types only, nothing at run time. */
export type AppType = ReturnType<typeof createApp>;
