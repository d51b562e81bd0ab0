import { type ChildProcess, spawn } from 'node:child_process';
import { setTimeout as pause } from 'node:timers/promises';
import { built, mapped } from '../built.ts';
import { CannotStart } from '../cannot-start.ts';
import { projectRoot } from '../env.ts';
import { freePort } from './free-port.ts';

/** How long a server may take to get ready; the first one may have a demo to load. Milliseconds. */
const patience = 180_000;
/** Before one that ended by itself is started again, milliseconds. */
const restPause = 500;

/** One server of a cluster, as a process; started again when it ends by itself. */
export class Member {
  readonly #settings: Record<string, string>;
  readonly #complain: (sentence: string) => void;
  #child: ChildProcess | null = null;
  /** The same after it was started again: whoever reads its metrics knows it by that. */
  #port: number | null = null;
  #address: string | null = null;
  #printed = '';
  #isStopping = false;
  #hasServed = false;

  constructor(settings: Record<string, string>, complain: (sentence: string) => void) {
    this.#settings = settings;
    this.#complain = complain;
  }

  /** Where it serves; null: it does not now. */
  get address(): string | null {
    return this.#address;
  }

  /** What it said to the operator, with the address that everybody uses in place of its own. */
  greeting(url: string): string {
    return this.#printed.trim().replace(/http:\/\/127\.0\.0\.1:\d+/, url);
  }

  /** Resolves when it is ready. */
  async start(): Promise<void> {
    this.#port ??= await freePort();
    const port = this.#port;
    const child = spawn(process.execPath, [mapped, built('main')], {
      cwd: projectRoot,
      // Like npm's own child it ends when whoever started it is killed outright.
      env: {
        ...process.env,
        ...this.#settings,
        PORT: String(port),
        npm_lifecycle_event: 'start',
      },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    this.#child = child;
    this.#printed = '';
    child.stdout?.on('data', (chunk) => {
      this.#printed = (this.#printed + String(chunk)).slice(-5_000);
    });
    const address = `http://127.0.0.1:${port}`;
    child.once('exit', (code, signal) => {
      this.#child = null;
      this.#address = null;
      if (!this.#isStopping && this.#hasServed) void this.#again(String(signal ?? code));
    });
    const deadline = performance.now() + patience;
    while (!(await isReady(address))) {
      if (this.#child !== child) throw new CannotStart('A server of the cluster did not start.');
      if (performance.now() > deadline) throw new CannotStart('A server does not get ready.');
      await pause(50);
    }
    this.#address = address;
    this.#hasServed = true;
  }

  /** Its exit code; null when a signal ended it or it did not run. */
  async stop(): Promise<number | null> {
    this.#isStopping = true;
    const child = this.#child;
    if (!child) return null;
    const gone = new Promise<number | null>((resolve) => child.once('exit', resolve));
    child.kill('SIGTERM');
    return gone;
  }

  async #again(why: string): Promise<void> {
    this.#complain(`A server ended (${why}) and is started again.`);
    await pause(restPause);
    if (this.#isStopping) return;
    try {
      await this.start();
    } catch (error) {
      this.#complain(error instanceof Error ? error.message : String(error));
    }
  }
}

const isReady = (address: string): Promise<boolean> =>
  fetch(`${address}/readyz`).then(
    ({ ok }) => ok,
    () => false,
  );
