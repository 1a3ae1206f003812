import type { MiddlewareHandler } from 'hono';
import { addAudit } from '../store/audit.ts';
import type { Web } from './web.ts';

/** Looking again within so long is the same look. */
const SAME_LOOK_MS = 10 * 60_000;
const MOST_KEPT = 5_000;

const SEEN = [
  { path: /^\/cases\/([\w-]+)(?:\/(?:remake|prescriber))?$/, what: 'saw the case' },
  { path: /^\/wearers\/([\w-]+)(?:\/records)?$/, what: 'saw the wearer' },
  { path: /^\/jobs\/([\w-]+)(?:\/[\w-]+)?$/, what: 'saw the job' },
  { path: /^\/pictures\/([\w-]+)$/, what: 'saw a picture' },
  { path: /^\/lens-designs\.csv$/, what: 'saw the figures, taken out' },
];

/**
 * Puts on record who opened whose page. One short insert when a page of a wearer is opened, none when it is looked at again soon
 * after, so that pages stay quick.
 */
export function noteSeen(): MiddlewareHandler<Web> {
  const looked = new Map<string, number>();
  return async (c, next) => {
    await next();
    const room = c.get('room');
    if (c.req.method !== 'GET' || c.res.status !== 200 || room?.kind !== 'own') return;
    const seen = SEEN.map(({ path, what }) => ({ found: path.exec(c.req.path), what })).find(
      (one) => one.found,
    );
    if (!seen) return;
    const { db, clock } = room.shell;
    const now = clock.now();
    const subject = seen.found?.[1] ?? room.shopId;
    const look = `${room.actor.personId} ${seen.what} ${subject}`;
    const before = looked.get(look);
    if (before !== undefined && Math.abs(now.getTime() - before) < SAME_LOOK_MS) return;
    if (looked.size >= MOST_KEPT) looked.clear();
    looked.set(look, now.getTime());
    const entry = { by: room.actor.name, act: seen.what, subject, detail: {} };
    await db.transaction().execute((trx) => addAudit(trx, room.shopId, entry, now));
  };
}
