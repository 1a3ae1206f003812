import type { Hono } from 'hono';
import { FindPage } from '../../../dashboard/find/page.tsx';
import type { FindView } from '../../../dashboard/find/view.ts';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { daysBetween, localDay } from '../../followup/planSlots.ts';
import type { Db } from '../../store/database.ts';
import { foundWearers, type WearerRow } from '../../store/pages/wearers.ts';
import { ringWearers, wearersByLastDigits } from '../../store/ringList.ts';
import type { Shop } from '../../store/shops.ts';
import { readable } from '../format.ts';
import { loadShell, type Web } from '../web.ts';
import { soughtBy, typedQuery } from './sought.ts';

const HITS = 20;

/** Who rings in, found by name, number or job from every page; each hit has its call sheet beside it. */
export function findRoutes(app: Hono<Web>): void {
  app.get('/find', async (c) => {
    const { shell, shop, now } = await loadShell(c, 'Found', '');
    const view = await find(c.get('room').shell.db, shop, typedQuery(c.req.query('q')), now);
    return c.html(renderDocument(<FindPage shell={shell} view={view} />));
  });
}

async function find(db: Db, shop: Shop, q: string, now: Date): Promise<FindView> {
  if (q === '') return { q, hits: [] };
  const shopId = shop.shop_id;
  const rows = await foundWearers(db, shopId, soughtBy(q, shop.country), HITS);
  const phones = await ringWearers(
    db,
    shopId,
    rows.map((row) => row.wearer_id),
  );
  const known = rows.map((row) => {
    const phone = phones.find((one) => one.wearer_id === row.wearer_id)?.phone ?? null;
    return { id: row.wearer_id, name: row.name, detail: detailOf(row, phone, shop, now) };
  });
  const ids = new Set(known.map((one) => one.id));
  const digits = /^[\d\s().+-]{3,20}$/.test(q) ? q.replace(/\D/g, '') : '';
  const byDigits = digits.length < 3 ? [] : await wearersByLastDigits(db, shopId, digits, HITS);
  const more = byDigits
    .filter((row) => !ids.has(row.wearer_id))
    .map((row) => ({ id: row.wearer_id, name: row.wearer, detail: readable(row.phone ?? '') }));
  return {
    q,
    hits: [...known, ...more].map(({ id, name, detail }) => ({
      href: `/wearers/${id}`,
      name,
      detail,
      callHref: `/ring-list/${id}`,
    })),
  };
}

function detailOf(row: WearerRow, phone: string | null, shop: Shop, now: Date): string {
  const today = localDay(now, row.zone_candidates[0] ?? shop.time_zone);
  return [
    row.first_worn_on === null ? 'not worn yet' : `day ${daysBetween(row.first_worn_on, today)}`,
    ...(row.design === null ? [] : [row.design]),
    ...(phone === null ? [] : [readable(phone)]),
  ].join(', ');
}
