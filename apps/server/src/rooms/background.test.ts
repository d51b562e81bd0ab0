import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { Background } from './background.ts';

it('R90 waits for what is under way and what that began, not for what others bring meanwhile', async () => {
  const background = new Background((error) => expect.unreachable(String(error)));
  const over: string[] = [];
  background.once('the first', 'b', async () => {
    await pause(20);
    over.push('the first');
    background.once('what it began', 'b', async () => {
      await pause(20);
      over.push('what it began');
    });
  });
  // Two at a time, each beginning the next: something is always under way.
  let ends = false;
  const bring = (): void =>
    background.once('another', 'b', async () => {
      await pause(10);
      if (!ends) bring();
    });
  bring();
  await pause(5);
  bring();
  await background.settled();
  expect(over).toEqual(['the first', 'what it began']);
  ends = true;
});
