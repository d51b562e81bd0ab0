import { nudgeStep } from './tools/nudge.ts';

/** What a key on the board asks for. */
export type Command =
  | { kind: 'nudge'; by: readonly [number, number] }
  | { kind: 'tool'; tool: 'select' | 'route' | 'motion' }
  | { kind: 'finish' }
  | { kind: 'dropPoint' }
  | { kind: 'liftPoint' }
  | { kind: 'delete' }
  | { kind: 'undo' }
  | { kind: 'redo' }
  | { kind: 'selectAll' }
  | { kind: 'escape' };

export interface Key {
  key: string;
  shift: boolean;
  alt: boolean;
  /** Ctrl, or Cmd on a Mac. */
  command: boolean;
}

const arrows: Record<string, readonly [number, number]> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** The command of a key; null when it is none of the board's, so that the browser keeps it. */
export function commandOf(key: Key, drawing: boolean): Command | null {
  const letter = key.key.toLowerCase();
  if (key.command) {
    if (letter === 'z') return { kind: key.shift ? 'redo' : 'undo' };
    if (letter === 'y') return { kind: 'redo' };
    if (letter === 'a') return { kind: 'selectAll' };
    return null;
  }
  const arrow = arrows[key.key];
  if (arrow) {
    const step = nudgeStep(key);
    return { kind: 'nudge', by: [arrow[0] * step, arrow[1] * step] };
  }
  if (key.key === 'Escape') return { kind: 'escape' };
  if (key.key === 'Enter') return drawing ? { kind: 'finish' } : null;
  if (key.key === ' ') return drawing ? { kind: 'dropPoint' } : null;
  if (key.key === 'Backspace' || key.key === 'Delete') {
    return drawing ? { kind: 'liftPoint' } : { kind: 'delete' };
  }
  if (key.alt || key.shift) return null;
  if (letter === 'r') return { kind: 'tool', tool: 'route' };
  if (letter === 'm') return { kind: 'tool', tool: 'motion' };
  if (letter === 'v') return { kind: 'tool', tool: 'select' };
  return null;
}
