const only = (from, allowed, why) => ({
  name: `${from}-imports`,
  comment: why,
  severity: 'error',
  from: { path: `^${from}/` },
  to: { path: '^(apps|packages|tests|prisma)/', pathNot: [`^${from}/`, ...allowed.map((p) => `^${p}/`)] },
});
module.exports = {
  forbidden: [
    { name: 'no-circles', comment: 'Two files that need each other are one file, or miss a third.', severity: 'error', from: {}, to: { circular: true } },
    { name: 'resolvable', comment: 'An import that nobody can resolve.', severity: 'error', from: {}, to: { couldNotResolve: true } },
    only('packages/football/src/(?!.*\\.test\\.)', ['packages/football'], 'football knows nothing but football: rules, boards and screens build on it.'),
  ],
};
