import { Histogram, Registry } from 'prom-client';

const requestSeconds = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10];

/** What one server counts for whoever runs it, and who may read it. */
export class Metrics {
  readonly registry = new Registry();
  /** Whoever sends it may read from anywhere; null: nobody but this machine. */
  readonly token: string | null;
  readonly #requests = new Histogram({
    name: 'stemline_http_request_seconds',
    help: 'Requests answered, by method, route pattern and status.',
    labelNames: ['method', 'route', 'status'],
    buckets: requestSeconds,
    registers: [this.registry],
  });

  constructor(token: string | null) {
    this.token = token;
  }

  /** `route`: the pattern, of which there are few. */
  answered(method: string, route: string, status: number, ms: number): void {
    this.#requests.observe({ method: knownMethod(method), route, status }, ms / 1000);
  }
}

const methods = new Set(['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS']);

/** A caller may make up methods; a metric for each would never end. */
const knownMethod = (method: string): string => (methods.has(method) ? method : 'other');
