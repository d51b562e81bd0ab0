import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory } from '@prisma/driver-adapter-utils';
import type { SchemaEngine } from '@prisma/schema-engine-wasm';
import pg from 'pg';

type Glue = typeof import('@prisma/schema-engine-wasm/schema_engine_bg');

/** The part of the platform's WebAssembly that we use; its types come with the browser's only. */
declare const WebAssembly: {
  instantiate(
    bytes: Uint8Array,
    imports: Record<string, object>,
  ): Promise<{ instance: { exports: Record<string, unknown> } }>;
};

/**
 * Lends Prisma's schema engine, as WebAssembly over our own driver: nothing is downloaded. Its
 * connections are closed afterwards, since one of them holds the engine's own lock.
 */
export async function withEngine<T>(
  url: string,
  use: (engine: SchemaEngine) => Promise<T>,
): Promise<T> {
  const { SchemaEngine } = await loadGlue();
  const pool = new pg.Pool({ connectionString: url });
  try {
    const adapter = bindMigrationAwareSqlAdapterFactory(new PrismaPg(pool));
    const engine = await SchemaEngine.new({ datamodels: undefined }, () => undefined, adapter);
    try {
      return await use(engine);
    } finally {
      engine.free();
    }
  } finally {
    await pool.end();
  }
}

let loading: Promise<Glue> | undefined;

/**
 * The package's main file imports its `.wasm` as a module, which Node 20 cannot do; so we do by hand
 * what that file does.
 */
function loadGlue(): Promise<Glue> {
  loading ??= (async () => {
    const folder = dirname(createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm'));
    const glue = await import('@prisma/schema-engine-wasm/schema_engine_bg');
    const bytes = await readFile(join(folder, 'schema_engine_bg.wasm'));
    const { instance } = await WebAssembly.instantiate(bytes, {
      './schema_engine_bg.js': { ...glue },
    });
    glue.__wbg_set_wasm(instance.exports);
    const start = instance.exports.__wbindgen_start;
    if (typeof start !== 'function') throw new Error('the schema engine has no start');
    start();
    return glue;
  })();
  return loading;
}
