import { describe, expect, it } from 'vitest';
import { cutAgainAndAgain } from './cuts.ts';
import { fuzz } from './fuzz.ts';
import { killAgainAndAgain } from './kills.ts';

const isOver = (): boolean => false;

/** The short form of `npm run soak`. */
describe('soak', () => {
  it('R4 R5 kill -9 of app and database loses nothing that was acknowledged', async () => {
    const counts = await killAgainAndAgain(
      { app: 2, database: 1, seed: 4, isOver },
      () => undefined,
    );
    expect(counts).toMatchObject({
      app: 2,
      database: 1,
      acknowledgedLost: 0,
      heldLost: 0,
      divergent: 0,
      turnedAway: 0,
    });
    expect(counts.acknowledged).toBeGreaterThan(20);
  }, 180_000);

  it('R100 R102 R103 R104 two servers cut off from Redis, and one of them killed, lose and double nothing', async () => {
    const counts = await cutAgainAndAgain({ cuts: 3, seed: 6, isOver }, () => undefined);
    expect(counts).toMatchObject({
      killed: 1,
      frozen: 1,
      servers: 1,
      acknowledgedLost: 0,
      heldLost: 0,
      divergent: 0,
      doubled: 0,
      turnedAway: 0,
    });
    expect(counts.acknowledged).toBeGreaterThan(20);
  }, 180_000);

  it('R30 R37 10,000 hostile frames leave no trace and disturb nobody', async () => {
    const counts = await fuzz({ frames: 10_000, seed: 5, isOver }, () => undefined);
    expect(counts).toMatchObject({
      wrong: {},
      crashes: 0,
      divergent: 0,
      turnedAway: 0,
      spoofed: 0,
    });
    expect(counts.frames).toBeGreaterThanOrEqual(10_000);
    expect(counts.memory.last).toBeGreaterThan(0);
    expect(counts.ended).toBeGreaterThan(100);
    expect(counts.honestEdits).toBeGreaterThan(20);
  }, 180_000);
});
