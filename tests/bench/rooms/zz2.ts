import { openHome } from './home.ts';
import { load } from './loader.ts';

const pause = (ms: number): Promise<void> => new Promise((r) => setTimeout(r, ms));
const home = await openHome();
const boards = await home.boards(1000);
const side = await home.start();
const target = {
  dialect: side.dialect,
  url: side.url,
  rooms: boards,
  cookies: home.cookies,
  base: null,
};
let last = { heap: 0, rss: 0 };
const hold = async (from: number, n: number, sockets = n) => {
  await load(
    { kind: 'idle', target: { ...target, rooms: boards.slice(from, from + n) }, sockets } as never,
    {
      ready: async () => {
        await pause(20000);
        const c = await side.cost(true);
        console.log(
          'hold',
          n,
          'rooms',
          sockets,
          'sockets',
          'heap KiB',
          (c.heap / 1024).toFixed(0),
          'rss KiB',
          (c.rss / 1024).toFixed(0),
          'd heap',
          ((c.heap - last.heap) / 1024).toFixed(0),
          'd rss',
          ((c.rss - last.rss) / 1024).toFixed(0),
        );
        last = c;
      },
    },
  );
};
await hold(0, 20, 2000);
await hold(20, 20);
await hold(20, 200);
await hold(20, 400);
await hold(20, 800);
await hold(20, 200);
await hold(20, 400);
await hold(20, 800);
await side.stop();
const two = await home.start();
const t2 = { ...target, url: two.url };
const more = await home.boards(5000);
for (let i = 0; i < 5; i++) {
  await load({
    kind: 'visit',
    target: { ...t2, rooms: more.slice(i * 1000, i * 1000 + 1000) },
  } as never);
  await pause(31000);
  let before = await two.cost(true);
  for (let k = 0; k < 10; k++) {
    await pause(3000);
    const next = await two.cost(true);
    const d = before.heap - next.heap;
    before = next;
    if (d < 20000) break;
  }
  console.log(
    'visited',
    (i + 1) * 1000,
    'heap KiB',
    (before.heap / 1024).toFixed(0),
    'rss',
    (before.rss / 1024).toFixed(0),
  );
}
await two.stop();
await home.close();
process.exit();
