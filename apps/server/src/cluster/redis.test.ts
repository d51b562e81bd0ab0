import { Redis } from 'ioredis';
import { expect, it } from 'vitest';
import { startRedis } from './redis.ts';

it('a Redis of ours that ends by itself is started again, until it is stopped', async () => {
  const told: string[] = [];
  const redis = await startRedis((why) => told.push(why));
  const client = new Redis(redis.url, { maxRetriesPerRequest: null, retryStrategy: () => 100 });
  client.on('error', () => undefined);
  try {
    expect(await client.ping()).toBe('PONG');
    await redis.kill();
    expect(await client.ping()).toBe('PONG');
    expect(told).toEqual(['it ended by itself (SIGKILL)']);
  } finally {
    client.disconnect();
    await redis.stop();
  }
  expect(told).toHaveLength(1);
});
