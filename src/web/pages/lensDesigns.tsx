import type { Context, Hono } from 'hono';
import { LensDesignsPage } from '../../../dashboard/lens-designs/page.tsx';
import { LensPairsPage } from '../../../dashboard/lens-pairs/page.tsx';
import { MonthSheetPage } from '../../../dashboard/month-sheet/page.tsx';
import { renderDocument } from '../../../dashboard/shell/page.tsx';
import { dayNumber } from '../../followup/finishedPairs.ts';
import { keptPairs } from '../../followup/keptPairs.ts';
import { localDay } from '../../followup/planSlots.ts';
import { warnAtOrder } from '../../followup/warnAtOrder.ts';
import { NOTHING_MORE_THAN_LUCK } from '../../review/monthSheet.ts';
import { ownBias } from '../../review/ownBias.ts';
import { pairsInWords } from '../../review/words.ts';
import { findShop, type Shop } from '../../store/shops.ts';
import { trouble } from '../trouble.tsx';
import { back, field, loadShell, personName, type Web } from '../web.ts';
import { lensDesignsView, lensPairsView, ratesCsv } from './lensDesignsView.ts';
import { dayWords, monthOf, PARTS, type Reviewed, readAsked } from './lensFigures.ts';

/** Which designs, measurements and habits make remakes: the page, the pairs behind each number, the sheet, the file. */
export function lensDesignsRoutes(app: Hono<Web>): void {
  app.get('/lens-designs', async (c) => {
    const { shell, shop, now } = await loadShell(c, 'Lens designs', '/lens-designs');
    const view = lensDesignsView(await review(c, shop, now));
    return c.html(renderDocument(<LensDesignsPage shell={shell} view={view} />));
  });

  app.post('/lens-designs/warning', async (c) => {
    const room = c.get('room');
    const { shop, now, reviewed } = await reviewOfShop(c);
    const asked = { what: field(c, 'what'), how: field(c, 'how'), on: field(c, 'on') === 'yes' };
    const today = localDay(now, shop.time_zone);
    const leans = ownBias(reviewed.pairs, 'measuredHow');
    const done = await warnAtOrder(room.shell, room.shopId, asked, leans, today, personName(room));
    if (!done.ok) return trouble(c, 409, done.problems[0]!.what, done.problems[0]!.mend);
    return back(c, '/lens-designs#bias-heading', {
      kind: 'done',
      text: done.value.on
        ? `From now on the order form and jobs measured by ${asked.how} say it.`
        : 'It is no longer said at the order.',
    });
  });

  app.get('/lens-designs/pairs', async (c) => {
    const { shell, shop, now } = await loadShell(c, 'The pairs behind a number', '/lens-designs');
    const part = PARTS.find((one) => one === c.req.query('part'));
    const view = part && lensPairsView(part, c.req.query('key') ?? '', await review(c, shop, now));
    if (!view)
      return trouble(
        c,
        404,
        'There is no such number any more.',
        'The figures may have moved on; open it again from Lens designs.',
      );
    return c.html(renderDocument(<LensPairsPage shell={shell} view={view} />));
  });

  app.get('/lens-designs/month', async (c) => {
    const { shop, now, reviewed } = await reviewOfShop(c);
    const sheet = monthOf(reviewed);
    const view = {
      shopName: shop.name,
      invented: shop.kind === 'invented',
      on: dayWords(reviewed.today),
      month: monthName(now, shop.time_zone),
      sentences: sheet.sentences.map(({ sentence, guard, trace }) => ({
        sentence,
        guard: guard.charAt(0).toUpperCase() + guard.slice(1),
        pairs: `${pairsInWords(trace.n)}.`,
      })),
      otherwise: `${NOTHING_MORE_THAN_LUCK.charAt(0).toUpperCase()}${NOTHING_MORE_THAN_LUCK.slice(1)}.`,
      looks: sheet.looks,
    };
    return c.html(renderDocument(<MonthSheetPage view={view} />));
  });

  app.get('/lens-designs.csv', async (c) => {
    const { reviewed } = await reviewOfShop(c);
    return c.body(ratesCsv(reviewed), 200, {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': 'attachment; filename="lens-designs.csv"',
    });
  });
}

async function reviewOfShop(c: Context<Web>) {
  const { shell, shopId } = c.get('room');
  const now = shell.clock.now();
  const shop = await findShop(shell.db, shopId);
  return { shop, now, reviewed: await review(c, shop, now) };
}

async function review(c: Context<Web>, shop: Shop, now: Date): Promise<Reviewed> {
  const { db } = c.get('room').shell;
  const today = dayNumber(localDay(now, shop.time_zone));
  return {
    ...(await keptPairs(db, shop.shop_id, shop.settings, today)),
    today,
    settings: shop.settings,
    asked: readAsked((name) => c.req.query(name)),
  };
}

/** "August 2026". */
const monthName = (now: Date, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { month: 'long', year: 'numeric', timeZone }).format(now);
