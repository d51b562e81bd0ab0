// Loaded before a server under test: answers what it costs, after a collection where one is asked for.
process.on('message', ({ collect }) => {
  if (collect) for (let i = 0; i < 3; i++) globalThis.gc?.();
  const { user, system } = process.cpuUsage();
  const { rss, heapUsed, external } = process.memoryUsage();
  process.send({ cpuMs: (user + system) / 1000, rss, heap: heapUsed + external });
});
process.on('disconnect', () => process.exit(0));
