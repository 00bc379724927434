import {
  Counter,
  collectDefaultMetrics,
  Gauge,
  Histogram,
  type OpenMetricsContentType,
  Registry,
} from 'prom-client';
import type { OpenDatabase } from '@/db/client';
import type { Answered } from './_watch-requests';

export type Connections = OpenDatabase['connections'];

const readings = '/api/v1/readings';

function metricsOf(registry: Registry<OpenMetricsContentType>) {
  const registers = [registry];
  return {
    registry,
    requests: new Histogram({
      name: 'idlemark_api_request_seconds',
      help: 'Answers of the API routes and their time, by method, route and status.',
      labelNames: ['method', 'route', 'status'],
      buckets: [0.01, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
      registers,
    }),
    recorded: new Counter({
      name: 'idlemark_readings_recorded',
      help: 'Readings put on record by the outboxes and the API; one sent again counts once.',
      registers,
    }),
    refused: new Counter({
      name: 'idlemark_outbox_refusals',
      help: 'Readings that were sent and not taken, by status.',
      labelNames: ['status'],
      registers,
    }),
    sweepSeconds: new Gauge({
      name: 'idlemark_sweep_seconds',
      help: 'How long the last sweep of this instance took.',
      registers,
    }),
    sweptAt: new Gauge({
      name: 'idlemark_sweep_last_success_timestamp_seconds',
      help: 'When a sweep of this instance last ended well; of several instances the greatest counts.',
      registers,
    }),
    sweepFailures: new Counter({
      name: 'idlemark_sweep_failures',
      help: 'Sweeps of this instance that failed.',
      registers,
    }),
    connections: new Gauge({
      name: 'idlemark_database_connections',
      help: 'Connections of this instance to the server by state; waiting are askers without one.',
      labelNames: ['state'],
      registers,
    }),
  };
}

function freshMetrics() {
  const registry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  collectDefaultMetrics({ register: registry });
  return metricsOf(registry);
}

// The bundler loads this module more than once in a process: one registry for all of them.
const key = Symbol.for('idlemark.metrics');
const store = globalThis as { [key]?: ReturnType<typeof freshMetrics> };

export function metrics(): ReturnType<typeof freshMetrics> {
  store[key] ??= freshMetrics();
  return store[key];
}

export function countAnswer({ method, route, status, ms }: Answered): void {
  if (!route.startsWith('/api/')) return;
  const { requests, recorded, refused } = metrics();
  requests.observe({ method, route, status }, ms / 1000);
  if (method !== 'POST' || route !== readings) return;
  if (status === 201) recorded.inc();
  else if (status >= 400) refused.inc({ status });
}

/** The whole text, with the pool as it stands at this moment. */
export async function metricsText(pool: Connections): Promise<string> {
  const { registry, connections } = metrics();
  for (const [state, count] of Object.entries(pool?.() ?? {})) connections.set({ state }, count);
  return registry.metrics();
}
