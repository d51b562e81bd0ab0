/**
 * `npm run bench -- engine|rooms|browser [--json] [part …]`. With `--json` one array of figures goes to
 * standard output and nothing else; asserts nothing.
 */
import { type Figure, printFigures } from './figure.ts';

type Say = (sentence: string) => void;
const benches: Record<string, (say: Say, only: readonly string[]) => Promise<readonly Figure[]>> = {
  engine: async (say, only) => (await import('./engine/bench.ts')).engineBench(say, only),
  rooms: async (say, only) => (await import('./rooms/bench.ts')).roomsBench(say, only),
  browser: async (say, only) => (await import('./browser.ts')).browserBench(say, only),
};

const words = process.argv.slice(2);
const json = words.includes('--json');
const [which = '', ...only] = words.filter((word) => !word.startsWith('--'));
const bench = benches[which];
if (!bench) {
  console.error(`Say which: npm run bench -- ${Object.keys(benches).join('|')} [--json]`);
  process.exit(1);
}
const figures = await bench((sentence) => console.error(sentence), only);
if (json) process.stdout.write(`${JSON.stringify(figures)}\n`);
else printFigures(figures);
