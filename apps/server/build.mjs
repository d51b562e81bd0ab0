// Builds the server into dist/: each file that a process or a thread begins with, and what several of them share
// once. Read as it stands, some four hundred modules through a loader, it took three times as long to begin.
import { readdir, readFile, rm } from 'node:fs/promises';
import { basename, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));

/** Packages of others are loaded from where they are installed; ours are part of the build. */
const othersStayOutside = {
  name: 'others-stay-outside',
  setup: ({ onResolve }) =>
    onResolve({ filter: /^[^./]/ }, ({ kind, path }) =>
      kind === 'entry-point' || path.startsWith('@stemline/') ? null : { path, external: true },
    ),
};

/** A file that looks for others beside itself goes on looking from where its source stands. */
const knowsItsPlace = {
  name: 'knows-its-place',
  setup: ({ onLoad }) =>
    onLoad({ filter: /apps[\\/]server[\\/]src[\\/].*\.ts$/ }, async ({ path }) => {
      const text = await readFile(path, 'utf8');
      const place = JSON.stringify(relative(`${here}dist`, path).replaceAll('\\', '/'));
      const contents = text.replaceAll(
        'import.meta.url',
        `new URL(${place}, import.meta.url).href`,
      );
      return { contents, loader: 'ts' };
    }),
};

const { metafile } = await build({
  absWorkingDir: here,
  entryPoints: {
    main: 'src/main.ts',
    cluster: 'src/cluster/main.ts',
    'rule-check-thread': 'src/rooms/checking/thread.ts',
    'archive-thread': 'src/archive/reading/thread.ts',
    check: 'src/cli/check.ts',
    backup: 'src/cli/backup.ts',
    restore: 'src/cli/restore.ts',
    'new-migration': 'src/cli/new-migration.ts',
  },
  outdir: 'dist',
  // All side by side: what looks from its source's place is told the way from there.
  chunkNames: 'shared-[hash]',
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  sourcemap: true,
  sourcesContent: false,
  plugins: [othersStayOutside, knowsItsPlace],
  metafile: true,
  logLevel: 'warning',
});
const made = new Set(Object.keys(metafile.outputs).map((path) => basename(path)));
for (const name of await readdir(`${here}dist`))
  if (!made.has(name)) await rm(`${here}dist/${name}`);
