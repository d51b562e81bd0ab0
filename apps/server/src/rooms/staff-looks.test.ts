import { builtInLooks, type LookRecipe } from '@stemline/football/shelf';
import { describe, expect, it } from 'vitest';
import { StaffLooks } from './staff-looks.ts';

const fresh = (count: number): LookRecipe[] => structuredClone(builtInLooks.slice(0, count));

function open(answers: (() => Promise<LookRecipe[]>)[] = []) {
  const asked: string[] = [];
  const looks = new StaffLooks({
    looks: (staff) => {
      asked.push(staff);
      return (answers.shift() ?? (() => Promise.resolve(fresh(2))))();
    },
  });
  return { looks, asked };
}

describe('the looks of a staff', () => {
  it('R65 are read once for all its rooms', async () => {
    const { looks, asked } = open();
    const [a, b, c] = [looks.hold('Harbour'), looks.hold('Harbour'), looks.hold('Quay')];
    const [ofA, ofB] = await Promise.all([a.read(), b.read()]);
    expect(ofA).toBe(ofB);
    expect(await c.read()).not.toBe(ofA);
    expect(asked).toEqual(['Harbour', 'Quay']);
  });

  it('are read again when one of its rooms says so, and stay the same object where they say the same', async () => {
    const { looks, asked } = open([
      async () => fresh(2),
      async () => fresh(2),
      async () => fresh(3),
    ]);
    const [a, b] = [looks.hold('Harbour'), looks.hold('Harbour')];
    const first = await a.read();
    b.readAgain();
    expect(await a.read()).toBe(first);
    b.readAgain();
    expect(await a.read()).toHaveLength(3);
    expect(await b.read()).toBe(await a.read());
    expect(asked).toHaveLength(3);
  });

  it('a read that was begun before the change is not handed to who asks after it', async () => {
    let answer: (looks: LookRecipe[]) => void = () => undefined;
    const slow = new Promise<LookRecipe[]>((resolve) => {
      answer = resolve;
    });
    const { looks } = open([() => slow, async () => fresh(3)]);
    const [a, b] = [looks.hold('Harbour'), looks.hold('Harbour')];
    const before = a.read();
    b.readAgain();
    expect(await b.read()).toHaveLength(3);
    answer(fresh(2));
    expect(await before).toHaveLength(2);
    expect(await a.read()).toHaveLength(3);
  });

  it('a failed read is tried again by the next one', async () => {
    const { looks } = open([() => Promise.reject(new Error('away'))]);
    const room = looks.hold('Harbour');
    await expect(room.read()).rejects.toThrow('away');
    expect(await room.read()).toHaveLength(2);
  });

  it('R81 go with the last room of the staff', async () => {
    const { looks, asked } = open();
    const [a, b] = [looks.hold('Harbour'), looks.hold('Harbour')];
    await a.read();
    a.release();
    expect(looks.size).toBe(1);
    b.release();
    expect(looks.size).toBe(0);
    await looks.hold('Harbour').read();
    expect(asked).toHaveLength(2);
  });
});
