import { ApiProblem } from '../api/problem.ts';

/** An archive on its way here, or waiting for its turn. */
interface Arrival {
  parts: Uint8Array[];
  bytes: number;
  gaveWay: boolean;
}

/** A part takes memory beside its bytes, were it one of them. */
const bytesBesidePart = 1_024;
const held = ({ bytes, parts }: Arrival): number => bytes + parts.length * bytesBesidePart;

export interface ArrivingLimits {
  /** Bytes of one archive, and what all that are on their way here may hold. */
  maxBytes: number;
  maxBytesOfAll: number;
}

const gaveWay = () =>
  new ApiProblem('tooMany', 'More was on its way here than there is room for.', {
    mend: 'Try again in a moment.',
  });

/**
 * Archives that are being sent. However slowly one comes, it keeps nobody from his turn: it takes none before
 * it is here, and where all together are more than there is room for, the largest gives way.
 */
export class Arriving {
  readonly #limits: ArrivingLimits;
  readonly #arrivals = new Set<Arrival>();

  constructor(limits: ArrivingLimits) {
    this.#limits = limits;
  }

  /** `use` calls `whole` once it begins with the archive, which counts as on its way until then. */
  async receive<T>(request: Request, use: (whole: () => ArrayBuffer) => Promise<T>): Promise<T> {
    this.#mustFit(Number(request.headers.get('content-length') ?? 0));
    const arrival: Arrival = { parts: [], bytes: 0, gaveWay: false };
    this.#arrivals.add(arrival);
    try {
      for await (const part of request.body ?? []) {
        this.#mustFit(arrival.bytes + part.byteLength);
        arrival.parts.push(part);
        arrival.bytes += part.byteLength;
        this.#makeRoom();
        if (arrival.gaveWay) throw gaveWay();
      }
      return await use(() => this.#whole(arrival));
    } finally {
      this.#arrivals.delete(arrival);
    }
  }

  #mustFit(bytes: number): void {
    const { maxBytes } = this.#limits;
    if (bytes > maxBytes) throw new ApiProblem('tooLarge', `A body may have ${maxBytes} bytes.`);
  }

  #makeRoom(): void {
    let all = 0;
    for (const arrival of this.#arrivals) all += held(arrival);
    while (all > this.#limits.maxBytesOfAll) {
      const largest = [...this.#arrivals].reduce((a, b) => (held(b) > held(a) ? b : a));
      all -= held(largest);
      // Its sender hears of it with what he sends next; what came of it goes at once.
      largest.parts = [];
      largest.bytes = 0;
      largest.gaveWay = true;
    }
  }

  #whole(arrival: Arrival): ArrayBuffer {
    if (arrival.gaveWay) throw gaveWay();
    this.#arrivals.delete(arrival);
    const whole = new Uint8Array(arrival.bytes);
    let at = 0;
    for (const part of arrival.parts) {
      whole.set(part, at);
      at += part.byteLength;
    }
    arrival.parts = [];
    return whole.buffer;
  }
}
