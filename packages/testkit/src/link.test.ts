import { newDocument } from '@stemline/board/schema';
import { describe, expect, it } from 'vitest';
import { Link } from './link.ts';
import { asPlayerId } from './plays.ts';
import { twoCoaches } from './two-coaches.ts';

const H = asPlayerId('H');
const placeOf = (coach: ReturnType<typeof twoCoaches>['a']) =>
  coach.snapshot().board.play.players.find((player) => player.id === H)?.at;

describe('a line between two coaches', () => {
  it('holds every frame until it is let through, in order', () => {
    const { a, b, line } = twoCoaches();
    const start = placeOf(b);
    a.movePlayer(H, [-6, -1]);
    a.movePlayer(H, [-5, -1]);
    expect(line.waiting).toEqual([0, 2]);
    expect(placeOf(b)).toEqual(start);
    line.deliver(1, 1);
    expect(placeOf(b)).toEqual([-6, -1]);
    line.settle();
    expect(placeOf(b)).toEqual([-5, -1]);
  });

  it('does not send back what came over it', () => {
    const { a, line } = twoCoaches();
    a.movePlayer(H, [-6, -1]);
    line.settle();
    expect(line.waiting).toEqual([0, 0]);
  });

  it('loses what is under way when it is cut, and brings it when it is mended', () => {
    const { a, b, line } = twoCoaches();
    a.movePlayer(H, [-6, -1]);
    line.cut();
    a.setName('Cut off');
    b.movePlayer(H, [-4, -1]);
    expect(line.waiting).toEqual([0, 0]);
    line.mend();
    expect(a.snapshot()).toEqual(b.snapshot());
    expect(b.snapshot().board.play.name).toBe('Cut off');
  });

  it('hears nothing more once it is closed', () => {
    const [a, b] = [newDocument(1), newDocument(2)];
    const line = new Link(a, b);
    line.close();
    a.getMap('meta').set('name', 'Alone');
    expect(line.waiting).toEqual([0, 0]);
  });
});
