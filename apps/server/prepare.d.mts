/** Makes a clone ready to run; see prepare.mjs. */
export function prepare(wish: { webApp: boolean }): Promise<void>;
