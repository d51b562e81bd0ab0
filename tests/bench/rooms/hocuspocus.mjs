// A Hocuspocus server as its package comes, without a database: started in the folder that has it.
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const here = createRequire(join(process.cwd(), 'package.json'));
const { Server } = await import(pathToFileURL(here.resolve('@hocuspocus/server')).href);
await new Server({ port: Number(process.env.PORT), address: '127.0.0.1', quiet: true }).listen();
