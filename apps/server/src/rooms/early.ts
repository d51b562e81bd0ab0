import * as Y from 'yjs';
import type { RoomLimits } from './limits.ts';
import { merged } from './merged.ts';

export interface EarlyDeps {
  limits: Pick<RoomLimits, 'maxEarlyUpdates' | 'maxEarlyBytes' | 'earlyPatienceMs'>;
  /** From its first frame on, for an answer to what that builds on; milliseconds. */
  outrunPatienceMs: number;
  /** Of what is accepted or durable: what an update may build on. */
  stateVector: () => Uint8Array;
  /** What is to be judged as one, and of how many frames it is; called once, and later ones are judged as they come. */
  onReady: (update: Uint8Array, frames: number) => void;
  onTooMany: () => void;
}

/**
 * What a connection sends before it has answered the room's sync, for the first time or when it was asked again. A coach back
 * from offline who goes on editing sends his newest edit first and what it builds on after it: each
 * alone would look like a hidden update, together they are his honest work (R24).
 */
export class Early {
  readonly #deps: EarlyDeps;
  readonly #frames: Uint8Array[] = [];
  #bytes = 0;
  #count = 0;
  #timer: NodeJS.Timeout | null = null;

  constructor(deps: EarlyDeps) {
    this.#deps = deps;
  }

  /** `frames`: so many that came over the line are in it. */
  keep(update: Uint8Array, frames = 1): void {
    const { maxEarlyUpdates, maxEarlyBytes, earlyPatienceMs } = this.#deps.limits;
    this.#frames.push(update);
    this.#count += frames;
    this.#bytes += update.byteLength;
    if (this.#frames.length > maxEarlyUpdates || this.#bytes > maxEarlyBytes) {
      this.close();
      this.#deps.onTooMany();
      return;
    }
    this.#timer ??= setTimeout(() => this.#late(), earlyPatienceMs);
  }

  get heldBytes(): number {
    return this.#bytes;
  }

  answered(update: Uint8Array): void {
    this.#frames.push(update);
    this.#count += 1;
    this.#finish();
  }

  close(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
  }

  /** Some clients never answer; what stands alone need not wait for them. */
  #late(): void {
    const { limits, outrunPatienceMs } = this.#deps;
    if (!outruns(this.#frames, this.#deps.stateVector())) {
      this.#finish();
      return;
    }
    this.#timer = setTimeout(() => this.#finish(), outrunPatienceMs - limits.earlyPatienceMs);
  }

  #finish(): void {
    this.close();
    const frames = this.#frames.splice(0);
    this.#deps.onReady(asOne(frames), this.#count);
  }
}

/** All as one; what cannot be read is left as it came, so that the gate names what is wrong with it. */
function asOne(frames: readonly Uint8Array[]): Uint8Array {
  try {
    return merged(frames);
  } catch {
    const [first = new Uint8Array()] = frames;
    return frames.find((frame) => !isReadable(frame)) ?? first;
  }
}

function isReadable(frame: Uint8Array): boolean {
  try {
    Y.decodeUpdate(frame);
    return true;
  } catch {
    return false;
  }
}

/** Whether some client id begins later than the board knows it. */
function outruns(frames: readonly Uint8Array[], stateVector: Uint8Array): boolean {
  if (!frames.every(isReadable)) return false;
  const known = Y.decodeStateVector(stateVector);
  const { from } = Y.parseUpdateMeta(asOne(frames));
  return [...from].some(([client, clock]) => clock > (known.get(client) ?? 0));
}
