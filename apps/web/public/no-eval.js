// zod asks the browser whether it may compile its checks with eval. Our content policy says no, and
// every question would be reported as a violation; zod reads this setting before it asks.
globalThis.__zod_globalConfig = { jitless: true };
