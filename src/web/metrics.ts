import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { RoomHealth } from '../house.ts';

/** What a scrape gets: the process, requests by route and answer, the tick, and what waits. No name, number or id of anybody. */
export type Metrics = {
  request(of: { route: string; method: string; status: number; seconds: number }): void;
  text(health: RoomHealth | undefined): Promise<string>;
  readonly contentType: string;
};

export function openMetrics(): Metrics {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  const requests = new Histogram({
    name: 'afterfit_request_seconds',
    help: 'Time to answer, by route and answer.',
    labelNames: ['route', 'method', 'status'],
    buckets: [0.01, 0.03, 0.1, 0.3, 1, 3, 10],
    registers: [registry],
  });
  const gauge = (name: string, help: string, labelNames: string[] = []) =>
    new Gauge({ name, help, labelNames, registers: [registry] });
  const database = gauge('afterfit_database_up', '1 when the database answers.');
  const tickAge = gauge('afterfit_tick_age_seconds', 'Since the last tick ended.');
  const tickTook = gauge('afterfit_tick_took_seconds', 'How long the last tick took.');
  const waiting = gauge('afterfit_waiting', 'What waits: overdue messages, unsorted replies, and so on.', [
    'what',
  ]);
  return {
    contentType: registry.contentType,
    request({ route, method, status, seconds }) {
      requests.observe({ route, method, status: String(status) }, seconds);
    },
    async text(health) {
      database.set(health?.database ? 1 : 0);
      if (health?.tickAgeSeconds !== undefined) tickAge.set(health.tickAgeSeconds);
      if (health?.tickTookSeconds !== undefined) tickTook.set(health.tickTookSeconds);
      for (const [what, count] of Object.entries(health?.waiting ?? {})) waiting.set({ what }, count);
      return registry.metrics();
    },
  };
}
