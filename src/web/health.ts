import { timingSafeEqual } from 'node:crypto';
import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context, Hono } from 'hono';
import { matchedRoutes } from 'hono/route';
import { type Log, withRequest } from '../log.ts';
import { openMetrics } from './metrics.ts';
import type { House, Web } from './web.ts';

/** A tick is due each minute; after so long without one a process is no use. */
const TICK_LATE_SECONDS = 180;

/**
 * For whatever watches the process: `/healthz` answers while it lives, `/readyz` while its database answers and its ticks run,
 * `/metrics` to this machine alone or to who has the token. Every request gets an id that stands in its answer and in
 * the log; paths are told as their pattern, so that no id and no link of a wearer gets there.
 */
export function healthRoutes(app: Hono<Web>, house: House, log: Log): void {
  const metrics = openMetrics();
  app.use(async (c, next) => {
    const id = crypto.randomUUID();
    const start = performance.now();
    await withRequest(id, next);
    c.header('x-request-id', id);
    const seconds = (performance.now() - start) / 1000;
    const of = { route: routeOf(c), method: c.req.method, status: c.res.status };
    metrics.request({ ...of, seconds });
    log.info({ request: id, ...of, ms: Math.round(seconds * 1000) }, 'answered');
  });
  app.get('/healthz', (c) => c.text('alive\n'));
  app.get('/readyz', async (c) => {
    const missing = await missingOf(house);
    return c.json({ ready: missing.length === 0, missing }, missing.length === 0 ? 200 : 503);
  });
  app.get('/metrics', async (c) => {
    if (!mayScrape(c, house.metricsToken)) return c.text('Only from this machine, or with the token.\n', 403);
    const text = await metrics.text(await house.room()?.health?.());
    return c.body(text, 200, { 'content-type': metrics.contentType });
  });
}

async function missingOf(house: House): Promise<string[]> {
  if (house.stopping?.()) return ['it is stopping'];
  const room = house.room();
  if (!room) return ['no shop is open'];
  const health = await room.health?.();
  if (!health) return [];
  return [
    ...(health.database ? [] : ['the database does not answer']),
    ...((health.tickAgeSeconds ?? 0) <= TICK_LATE_SECONDS ? [] : ['no tick has ended of late']),
  ];
}

/** The pattern under which a request was answered; what no route knows is one and the same. */
function routeOf(c: Context<Web>): string {
  const patterns = matchedRoutes(c).map((route) => route.path);
  return patterns.reverse().find((pattern) => !pattern.endsWith('*')) ?? 'none';
}

/** A proxy on this machine would make everyone look like this machine: who comes through one needs the token. */
function mayScrape(c: Context<Web>, token: string | undefined): boolean {
  if (token !== undefined) {
    const given = Buffer.from(c.req.header('authorization') ?? '');
    const wanted = Buffer.from(`Bearer ${token}`);
    return given.length === wanted.length && timingSafeEqual(given, wanted);
  }
  if (['x-forwarded-for', 'forwarded', 'x-real-ip'].some((name) => c.req.header(name) !== undefined))
    return false;
  const from = getConnInfo(c).remote.address ?? '';
  return from === '::1' || /^(::ffff:)?127\./.test(from);
}
