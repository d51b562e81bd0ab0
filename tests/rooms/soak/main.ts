/**
 * `npm run soak [-- --json --app=100 --database=20 --cuts=60 --frames=1000000 --seed=1 --minutes=90]`: kills the app and
 * PostgreSQL at random moments under load, cuts two servers off from Redis and kills one, then fires hostile frames at a board at work. Prints counts.
 * Ends with what it has when its time is over or it is told to, leaving nothing running.
 */
import { parseArgs } from 'node:util';
import { type Figure, higher, lower, printFigures } from '../../bench/figure.ts';
import { type Cuts, cutAgainAndAgain } from './cuts.ts';
import { fuzz } from './fuzz.ts';
import { killAgainAndAgain } from './kills.ts';

const { values } = parseArgs({
  options: {
    json: { type: 'boolean', default: false },
    app: { type: 'string', default: '100' },
    database: { type: 'string', default: '20' },
    cuts: { type: 'string', default: '60' },
    frames: { type: 'string', default: '1000000' },
    seed: { type: 'string', default: '1' },
    minutes: { type: 'string', default: '90' },
  },
});
const say = (sentence: string): void => console.error(sentence);
const deadline = performance.now() + Number(values.minutes) * 60_000;
let told = false;
for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.on(signal, () => {
    told = true;
  });
const wish = {
  app: Number(values.app),
  database: Number(values.database),
  cuts: Number(values.cuts),
  frames: Number(values.frames),
  seed: Number(values.seed),
  isOver: () => told || performance.now() > deadline,
};
const kills = await killAgainAndAgain(wish, say);
const cuts = await cutAgainAndAgain(wish, say);
const hostile = await fuzz(wish, say);
for (const [what, count] of Object.entries(hostile.wrong)) say(`${what}: ${count} times`);

const all = ({ killed, frozen, servers }: Cuts): number => killed + frozen + servers;
const none = (name: string, count: number): Figure => lower(name, count, '', 0);
const figures = [
  higher('kill -9 of the app under load', kills.app, '', wish.app),
  higher('kill -9 of PostgreSQL under load', kills.database, '', wish.database),
  higher('edits meanwhile', kills.edits, ''),
  higher('acknowledged edits looked for, over all kills', kills.acknowledged, ''),
  none('acknowledged edits lost', kills.acknowledgedLost),
  none('unacknowledged edits lost that a client still held', kills.heldLost),
  none('divergent replicas after kills', kills.divergent),
  none('honest coaches turned away after kills', kills.turnedAway),
  higher(
    'two servers: Redis killed, frozen, or a server killed, under load',
    all(cuts),
    '',
    wish.cuts,
  ),
  higher('two servers: times one said that Redis is away', cuts.saidAway, ''),
  higher('two servers: edits meanwhile', cuts.edits, ''),
  higher('two servers: acknowledged edits looked for, over all cuts', cuts.acknowledged, ''),
  none('two servers: acknowledged edits lost', cuts.acknowledgedLost),
  none('two servers: unacknowledged edits lost that a client still held', cuts.heldLost),
  none('two servers: divergent replicas', cuts.divergent),
  none('two servers: edits written twice', cuts.doubled),
  none('two servers: honest coaches turned away', cuts.turnedAway),
  higher('hostile frames', hostile.frames, '', wish.frames),
  higher('boards attacked, one after the other', hostile.boards, ''),
  higher('hostile connections ended', hostile.ended, ''),
  higher('honest edits meanwhile', hostile.honestEdits, ''),
  none('crashes', hostile.crashes),
  none('divergent replicas after hostile frames', hostile.divergent),
  lower(
    'memory of the server after the last board, beside the first',
    hostile.memory.last - hostile.memory.first,
    'MiB',
    256,
  ),
  none('honest coaches turned away meanwhile', hostile.turnedAway),
  none('spoofed names seen', hostile.spoofed),
  none(
    'hostile frames answered otherwise than they must be',
    Object.values(hostile.wrong).reduce((sum, count) => sum + count, 0),
  ),
];
if (values.json) process.stdout.write(`${JSON.stringify(figures)}\n`);
else printFigures(figures);
process.exitCode = figures.every(({ ok }) => ok) ? 0 : 1;
