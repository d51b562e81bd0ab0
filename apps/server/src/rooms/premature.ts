import type { Lack } from '@stemline/board/lacking';
import type { Connection } from './connection.ts';

export interface PrematureDeps {
  /** Whether what is accepted of a client id goes beyond this clock. */
  reaches: (clientId: number, clock: number) => boolean;
  /** Whether somebody is on the board under this client id, who may bring it. */
  isHere: (clientId: number) => boolean;
}

interface Waiting {
  connection: Connection;
  awaits: ReadonlyMap<number, Lack>;
  then: (came: boolean) => void;
  timer: NodeJS.Timeout;
}

/** Connections whose last update rests on what others have not brought yet (R112). */
export class Premature {
  readonly #deps: PrematureDeps;
  readonly #waiting = new Map<Connection, Waiting>();
  #isDue: NodeJS.Immediate | null = null;

  constructor(deps: PrematureDeps) {
    this.#deps = deps;
  }

  /** Says whether all of it came, by client id and clock; says nothing once the connection has ended. */
  wait(
    connection: Connection,
    awaits: ReadonlyMap<number, Lack>,
    patienceMs: number,
    then: (came: boolean) => void,
  ): void {
    // Once more is read before: after a pause of the whole process it may lie there already.
    const timer = setTimeout(() => setImmediate(() => this.#outwaited(waiting)), patienceMs);
    const waiting: Waiting = { connection, awaits, then, timer };
    this.#waiting.set(connection, waiting);
    this.progressed();
  }

  /** More is accepted, or somebody left. Looked at in a turn of its own, since what comes of it is progress again. */
  progressed(): void {
    if (this.#waiting.size === 0) return;
    this.#isDue ??= setImmediate(() => {
      this.#isDue = null;
      for (const [connection, { awaits }] of [...this.#waiting]) this.#look(connection, awaits);
    });
  }

  #look(connection: Connection, awaits: ReadonlyMap<number, Lack>): void {
    const missing = [...awaits].filter(([id, { clock }]) => !this.#deps.reaches(id, clock));
    if (missing.length === 0) this.#end(connection, true);
    else if (!missing.some(([id]) => this.#deps.isHere(id))) this.#end(connection, false);
  }

  left(connection: Connection): void {
    clearTimeout(this.#waiting.get(connection)?.timer);
    this.#waiting.delete(connection);
  }

  close(): void {
    if (this.#isDue) clearImmediate(this.#isDue);
    for (const connection of [...this.#waiting.keys()]) this.left(connection);
  }

  #outwaited(waiting: Waiting): void {
    const { connection } = waiting;
    if (this.#waiting.get(connection) === waiting) this.#end(connection, false);
  }

  #end(connection: Connection, came: boolean): void {
    const waiting = this.#waiting.get(connection);
    this.left(connection);
    waiting?.then(came);
  }
}
